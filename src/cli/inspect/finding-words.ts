import type { ActingFilter, Finding, InspectedMix, WeighedFinding } from '../../live/inspect/inspection.js';
import type { Unclear } from '../../live/inspect/standing-filter.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { filterPhrase } from '../../model/words.js';
import { formatDecibels, formatFrequency } from '../../units/format.js';
import { besideLimit, downOrUp, holdsTo } from '../words/beside-limit.js';

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

const placed = ({ filter }: ActingFilter): string => filterPhrase(filter);

/** A desk may answer with any text, however long. */
const longestShown = 160;

const cutShort = (text: string): string =>
  text.length > longestShown ? `${text.slice(0, longestShown)}…` : text;

/** What a finding is told of: a mix, and how its desk shows things. */
export interface Told extends Pick<InspectedMix, 'scope' | 'recipe'> {
  /** The slot a finding is about, as the desk shows it. */
  readonly shown: string;
  /** A filter of a recipe as the desk would show it. */
  phrase(placed: PlacedFilter): string;
}

const settings = (filters: readonly PlacedFilter[], { phrase }: Told): string =>
  filters.map((each) => `slot ${each.slot} to ${phrase(each)}`).join('; ');

const ofTheAsked = (pilotDb: number, { scope }: Told): string => {
  const { figure, limit } = besideLimit(pilotDb, scope.pilotAttenuationAtLeastDb, 'at least');
  return `${figure} of the ${limit} asked`;
};

/** A figure at the pilot beside what is asked, where this desk does no more than that. */
const atBest = (pilotDb: number, told: Told): string => {
  const best =
    told.recipe?.isProved === false ? 'as good as was found for this desk' : 'as good as this desk can do';
  const within = told.recipe?.hasSpareSlot ? ' without a slot more' : '';
  return `${best}${within}: ${ofTheAsked(pilotDb, told)}`;
};

/** What is left to do where no setting of the slots that may be used does more. */
const elsewhere = ({ scope, recipe }: Told): string => {
  const most = formatDecibels(scope.keepLossAtMostDb);
  const more = [
    ...(recipe?.hasSpareSlot ? ['a slot more (--spare-slots)'] : []),
    // A recipe without any filter has nothing to lose music by.
    ...(recipe?.filters.length === 0
      ? []
      : [
          `more music lost than ${most} (${scope.isKeepLossStated ? '--keep-loss' : '--keep-loss-to-reach'})`,
        ]),
    ...(recipe?.hasOtherSlots ? ['other slots (freeSlots in the rig)'] : []),
  ];
  return `Cut more outside this desk${more.length > 0 ? `, or allow its recipe ${more.join(' or ')}` : ''}.`;
};

const besideAsked = (pilotDb: number, { scope }: Told): string => {
  const { figure } = besideLimit(pilotDb, scope.pilotAttenuationAtLeastDb, 'at least');
  return downOrUp(pilotDb, figure);
};

const recipeWords = (
  finding: Extract<Finding, { readonly kind: 'as-recipe' | 'recipe-sets' | 'recipe-no-better' }>,
  told: Told,
): string => {
  const { pilotDb, hasLifts } = finding;
  const { keepLossAtMostDb, pilotAttenuationAtLeastDb } = told.scope;
  const isEnough = holdsTo(pilotDb, pilotAttenuationAtLeastDb, 'at least');
  switch (finding.kind) {
    case 'as-recipe': {
      if (!hasLifts) return `It stands as its recipe, ${atBest(pilotDb, told)}. ${elsewhere(told)}`;
      const without = 'Its recipe stands; without what lifts the pilot besides,';
      return isEnough
        ? `${without} it would be ${besideAsked(pilotDb, told)}.`
        : `${without} that is ${atBest(pilotDb, told)}. ${elsewhere(told)}`;
    }
    case 'recipe-no-better':
      return hasLifts
        ? `Its recipe would take no more at the pilot while that is lifted: ${formatDecibels(pilotDb)}.`
        : `Its recipe would take no more: ${ofTheAsked(pilotDb, told)}. ${elsewhere(told)}`;
    case 'recipe-sets': {
      const then =
        isEnough || hasLifts
          ? `the pilot is ${besideAsked(pilotDb, told)}`
          : `it is ${atBest(pilotDb, told)}`;
      const { figure, limit } = besideLimit(finding.lossDb, keepLossAtMostDb, 'at most');
      const isWithin = holdsTo(finding.lossDb, keepLossAtMostDb, 'at most');
      const music =
        isWithin || !finding.isMoreLost
          ? ''
          : `, and the music loses up to ${figure} by all that is on, at most ${limit} asked`;
      const taken = finding.inUse.map((each) => `slot ${each.slot} is in use, ${placed(each)}`);
      const stay =
        taken.length > 0 ? ` Now ${taken.join('; ')}: list freeSlots in the rig if it is to stay.` : '';
      return `Set, as its recipe has it, ${settings(finding.filters, told)}. Then ${then}${music}.${stay}`;
    }
  }
};

const cutWords = (
  { kind, offIn, recipe }: Extract<Finding, { readonly kind: 'no-low-cut' | 'no-high-cut' }>,
  told: Told,
): string => {
  const none = `no ${kind === 'no-low-cut' ? 'low cut' : 'high cut'} is on`;
  if (recipe === 'no-place') return `${none}, and its recipe finds no place for one.`;
  if (recipe === 'left-out') return `${none}, nor in its recipe: the pilot is guarded better without.`;
  const off = offIn === null ? '' : `; one stands in slot ${offIn}, off`;
  return recipe ? `${none}${off}. Its recipe sets ${settings([recipe], told)}.` : `${none}${off}.`;
};

const words = (finding: WeighedFinding, told: Told): string => {
  const { scope, shown } = told;
  switch (finding.kind) {
    case 'unclear':
      return `it reads "${cutShort(shown)}"; ${unclearWords(finding.unclear)}. Nothing can be promised: compare the target with the desk's manual, and the slot with the desk's display.`;
    case 'no-cut-near':
      return finding.pilotDb < toldDb
        ? 'Nothing at all cuts at the pilot.'
        : `No bell or notch cuts near the pilot; what else cuts takes ${formatDecibels(finding.pilotDb)} there.`;
    case 'cut-is-off':
      return `${placed(finding)}, is off. On, the pilot would be ${besideAsked(finding.pilotDb, told)}.`;
    case 'cut-misses':
      return `${placed(finding)}, stands ${offset(finding.offsetHz, finding.offsetCents)} the pilot and takes ${formatDecibels(finding.pilotDb)} there.`;
    case 'cut-too-weak':
      return `${placed(finding)}, takes ${formatDecibels(finding.pilotDb)} at the pilot.`;
    case 'lifts-pilot': {
      const lifts = `${placed(finding)}, lifts the pilot by ${formatDecibels(finding.liftDb)}`;
      if (finding.weight === 'notice') return `${lifts}; what cuts there makes up for it.`;
      return finding.isReplaced ? `${lifts}.` : `${lifts}. Turn it down.`;
    }
    case 'music-lost': {
      const { figure, limit } = besideLimit(finding.lossDb, finding.limitDb, 'at most');
      return `the music loses up to ${figure} from ${formatFrequency(scope.keepLowHz)} to ${formatFrequency(scope.keepHighHz)}, at most ${limit} asked; most by slot ${finding.slot}, ${placed(finding)}. Leave it where it is meant.`;
    }
    case 'level-raised': {
      const { figure, limit } = besideLimit(finding.riseDb, finding.limitDb, 'at most');
      return `up to ${figure} is added, at most ${limit} asked; most by slot ${finding.slot}, ${placed(finding)}. Leave it where it is meant.`;
    }
    case 'no-low-cut':
    case 'no-high-cut':
      return cutWords(finding, told);
    case 'as-recipe':
    case 'recipe-sets':
    case 'recipe-no-better':
      return recipeWords(finding, told);
  }
};

/** A finding as a sentence, with the slot it is about. */
export const findingWords = (finding: WeighedFinding, told: Told): string => {
  const isAboutASlot = 'slot' in finding && finding.kind !== 'music-lost' && finding.kind !== 'level-raised';
  return `${finding.weight === 'notice' ? 'note: ' : ''}${isAboutASlot ? `slot ${finding.slot}: ` : ''}${words(finding, told)}`;
};
