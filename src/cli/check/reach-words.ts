import type { NearFrequency, PilotReach } from '../../analysis/reach/pilot-reach.js';
import type { PilotSetting } from '../../analysis/reach/pilot-setting.js';
import { placedFilter } from '../../fitting/placement.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { filterPhrase } from '../../model/words.js';
import { formatDecibels, formatFrequency } from '../../units/format.js';

/** Beyond this nothing can be told apart by ear or meter: a notch is endless on paper. */
export const deepestShownDb = 100;

const tenths = (attenuationDb: number): string => (Number(attenuationDb.toFixed(1)) + 0).toFixed(1);

/** The worst case in dB; what is deeper than anybody could measure is only said to be. */
export const worstCase = (attenuationDb: number): string =>
  attenuationDb > deepestShownDb ? `over ${deepestShownDb}` : tenths(attenuationDb);

/** One way's figure in dB: beyond measure only where the worst way's is. */
export const oneCase = (attenuationDb: number, { leastDb }: PilotSetting): string => {
  if (leastDb > deepestShownDb) return worstCase(leastDb);
  return attenuationDb > deepestShownDb ? `${deepestShownDb} or more` : tenths(attenuationDb);
};

/** How much more than another a setting is sure of, as far as anybody could measure. */
export const surerByDb = (one: PilotSetting, other: PilotSetting): number =>
  Math.min(deepestShownDb, one.leastDb) - Math.min(deepestShownDb, other.leastDb);

/** The least and the most of one setting: `5.4 to 12.1`; a most beyond measure adds nothing to the least. */
export const leastToMost = ({ leastDb, mostDb }: PilotSetting): string => {
  const least = worstCase(leastDb);
  if (leastDb > deepestShownDb) return least;
  if (mostDb > deepestShownDb) return `${least} or more`;
  return least === tenths(mostDb) ? least : `${least} to ${tenths(mostDb)}`;
};

/** What a setting may cost the music: the limit that was stated, or where it comes from. */
export const lossLimit = ({ isKeepLossStated, keepLossAtMostDb, keepHighHz }: GuardScope): string =>
  isKeepLossStated
    ? `at most ${formatDecibels(keepLossAtMostDb)} of the music up to ${formatFrequency(keepHighHz)}`
    : `no more of the music up to ${formatFrequency(keepHighHz)} than the usual protective filters as asked would cost on the desk, or 1 dB`;

/** What rounds to nothing has no sign. */
const signed = (value: number, decimals: number): string => {
  const rounded = Number(value.toFixed(decimals)) + 0;
  return `${rounded > 0 ? '+' : ''}${rounded.toFixed(decimals)}`;
};

/** How far a frequency lies from the pilot, in the three ways people say it: Hz, cents, per cent. */
export const offsetNumbers = ({
  offsetHz,
  offsetCents,
  offsetFraction,
}: NearFrequency): readonly string[] => [
  signed(offsetHz, 1),
  signed(offsetCents, 1),
  signed(100 * offsetFraction, 2),
];

/** A frequency next to the pilot: itself, and how far off it is; one cell where there is none. */
export const nearCells = (near: NearFrequency | null): readonly string[] => {
  if (!near) return ['none'];
  const [hertz, cents, perCent] = offsetNumbers(near);
  return [`${(near.frequencyHz / 1000).toFixed(3)} kHz`, `${hertz} Hz`, `${cents} cents`, `${perCent} %`];
};

/** The frequencies next to the pilot, with what each is called. */
export const nearRows = ({
  below,
  at,
  above,
}: PilotReach): readonly (readonly [word: string, near: NearFrequency | null])[] => [
  ['below', below],
  ...(at ? [['on it', at] as const] : []),
  ['above', above],
];

/** A setting, and what it costs the music. */
export const settingCells = (setting: PilotSetting | null): readonly string[] =>
  setting
    ? [
        filterPhrase(placedFilter(setting.type, setting.set)),
        `${Math.max(0, setting.keepLossDb).toFixed(1)} dB of the music`,
      ]
    : ['none', ''];

/** What each setting takes, a row for every way of building, and its worst and its best. */
export const takenRows = ({ best, narrowest }: PilotReach): readonly (readonly string[])[] => {
  const settings = [best, narrowest];
  const cells = (taken: (setting: PilotSetting) => string): readonly string[] =>
    settings.map((setting) => (setting ? taken(setting) : ''));
  const ways = (best ?? narrowest)?.byRealisation ?? [];
  return [
    ...ways.map(({ id }, way) => [
      id,
      ...cells((setting) => oneCase(setting.byRealisation[way]?.pilotAttenuationDb ?? 0, setting)),
    ]),
    ['least', ...cells(({ leastDb }) => worstCase(leastDb))],
    ['most', ...cells((setting) => oneCase(setting.mostDb, setting))],
  ];
};

/** What a narrow cut does, with the figures, where it does so much less that it is worth saying. */
export const narrowWarning = ({ nearest, best, narrowest }: PilotReach): string | null => {
  if (!nearest || !best || !narrowest || surerByDb(best, narrowest) < 1) return null;
  const how =
    nearest.offsetHz === 0
      ? 'A very narrow cut does little at the edges of the window'
      : 'A very narrow cut that misses the pilot does little';
  return `${how}: the narrowest setting is sure of ${worstCase(narrowest.leastDb)} dB there, the best one of ${worstCase(best.leastDb)} dB. Widen it, or move other filters too.`;
};

/** That there is nothing to set there. */
export const noCutText = ({ pilotHz }: PilotReach): string =>
  `It has neither bell nor notch near ${formatFrequency(pilotHz)}: nothing of it can be set on the pilot.`;

/** What frequencies are told of. */
export const nextText = ({ pilotHz }: PilotReach): string =>
  `Frequencies its bells and notches can take next to the pilot, ${formatFrequency(pilotHz)}:`;

/** What the two settings are. */
export const twoSettingsText = ({ keepLossAtMostDb }: PilotReach, scope: GuardScope): string =>
  `Two settings of one of them. The best takes most at the pilot in the worst way of building, and costs ${lossLimit(scope)}: here ${formatDecibels(keepLossAtMostDb)}. The narrowest is at the nearest frequency, all the way down.`;

/** What is told of each way of building. */
export const takenText = ({ pilotHz, windowHz }: PilotReach): string =>
  `What each takes at the pilot, ${formatFrequency(pilotHz)} +-${windowHz} Hz, its knobs left where they stand, by the way the desk builds its filters:`;

/** How near it comes, in a sentence. */
export const reachResult = (found: readonly { readonly reach: PilotReach }[], isOne: boolean): string => {
  const [first] = found;
  if (first && isOne)
    return first.reach.nearest
      ? `Nearest: ${nearCells(first.reach.nearest).join(', ')}.`
      : noCutText(first.reach);
  const count = found.filter(({ reach }) => reach.at !== null).length;
  return `${count} of ${found.length} grids ${count === 1 ? 'has' : 'have'} the pilot itself.`;
};
