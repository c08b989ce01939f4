import type { Finding, WeighedFinding } from '../../live/inspection.js';
import type { Unclear } from '../../live/standing-filter.js';
import { filterPhrase } from '../../model/words.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { formatDecibels, formatFrequency } from '../../units/format.js';
import { besideLimit, downOrUp } from './beside-limit.js';

/** Less than this would be told as 0.0 dB. */
const toldDb = 0.05;

const whyWords: Readonly<Record<Unclear['why'], string>> = {
  unread: 'did not answer, or not as the target says',
  unreached: 'is not reached by OSC on this target',
  'not-understood': 'stands at nothing the target knows',
  'not-buildable': 'stands where no filter can be built',
};

const unclearWords = (unclear: readonly Unclear[]): string =>
  [...new Set(unclear.map(({ why }) => why))]
    .map((why) => {
      const names = unclear.filter((each) => each.why === why).map(({ parameter }) => parameter);
      return `${names.join(', ')} ${whyWords[why]}`;
    })
    .join('; ');

const offset = (hertz: number, cents: number): string =>
  `${Math.abs(hertz).toFixed(0)} Hz (${Math.abs(cents).toFixed(1)} cents) ${hertz < 0 ? 'below' : 'above'}`;

type Band = Extract<Finding, { readonly filter: unknown }>;

const band = ({ filter }: Band): string => filterPhrase(filter);

/** A desk may answer with any text, however long. */
const longestShown = 160;

const cutShort = (text: string): string =>
  text.length > longestShown ? `${text.slice(0, longestShown)}…` : text;

const words = (finding: WeighedFinding, shown: string, scope: GuardScope): string => {
  switch (finding.kind) {
    case 'unclear':
      return `it reads "${cutShort(shown)}"; ${unclearWords(finding.unclear)}. Nothing can be promised: compare the target with the desk's manual, and the slot with the desk's display.`;
    case 'no-cut-near':
      return finding.pilotDb < toldDb
        ? 'Nothing at all cuts at the pilot. Set its protective filters, as bandwright recipe tells them.'
        : `No bell or notch cuts near the pilot; what else cuts takes ${formatDecibels(finding.pilotDb)} there. Set a cut at the pilot, as bandwright recipe tells it.`;
    case 'cut-is-off': {
      const { figure } = besideLimit(finding.pilotDb, scope.pilotAttenuationAtLeastDb, 'at least');
      return `${band(finding)}, is off. On, the pilot would be ${downOrUp(finding.pilotDb, figure)}. Switch it on.`;
    }
    case 'cut-misses':
      return `${band(finding)}, stands ${offset(finding.offsetHz, finding.offsetCents)} the pilot and takes ${formatDecibels(finding.pilotDb)} there, where it would take ${formatDecibels(finding.centredDb)} centred on it. Move it nearer or widen it.`;
    case 'cut-too-weak':
      return `${band(finding)}, takes ${formatDecibels(finding.pilotDb)} at the pilot. Deepen or widen it, or lower a high cut.`;
    case 'lifts-pilot':
      return `${band(finding)}, lifts the pilot by ${formatDecibels(finding.liftDb)}${finding.weight === 'risk' ? '. Turn it down, or cut more at the pilot.' : '; what cuts there makes up for it.'}`;
    case 'music-lost': {
      const { figure, limit } = besideLimit(finding.lossDb, finding.limitDb, 'at most');
      return `the music loses up to ${figure} from ${formatFrequency(scope.keepLowHz)} to ${formatFrequency(scope.keepHighHz)}, at most ${limit} asked; most by slot ${finding.slot}, ${band(finding)}. Leave it where it is meant.`;
    }
    case 'level-raised': {
      const { figure, limit } = besideLimit(finding.riseDb, finding.limitDb, 'at most');
      return `up to ${figure} is added, at most ${limit} asked; most by slot ${finding.slot}, ${band(finding)}. Leave it where it is meant.`;
    }
    case 'no-low-cut':
    case 'no-high-cut': {
      const cut = finding.kind === 'no-low-cut' ? 'low cut' : 'high cut';
      return `no ${cut} is on${finding.offIn === null ? '' : `; one stands in slot ${finding.offIn}, off`}. bandwright recipe tells one.`;
    }
  }
};

/** A finding as a sentence, with the slot it is about; `shown` is that slot as the desk shows it. */
export const findingWords = (finding: WeighedFinding, shown: string, scope: GuardScope): string => {
  const told = words(finding, shown, scope);
  const isAboutASlot = 'slot' in finding && finding.kind !== 'music-lost' && finding.kind !== 'level-raised';
  return `${finding.weight === 'notice' ? 'note: ' : ''}${isAboutASlot ? `slot ${finding.slot}: ` : ''}${told}`;
};
