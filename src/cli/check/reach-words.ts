import type { NearFrequency } from '../../analysis/reach/pilot-reach.js';
import type { PilotSetting } from '../../analysis/reach/pilot-setting.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { formatDecibels, formatFrequency } from '../../units/format.js';

/** Beyond this nothing can be told apart by ear or meter: a notch is endless on paper. */
const deepestShownDb = 100;

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

const signed = (value: number, decimals: number): string =>
  `${value > 0 ? '+' : ''}${value.toFixed(decimals)}`;

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
