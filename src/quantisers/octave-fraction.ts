import { timesPowerOfTen } from './decimals.js';
import { type Family, familyWithin } from './grid.js';
import { positiveEnd, readParameters, wholeNumber } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

/**
 * Exact mid-band frequencies of IEC 61260-1:2014, clause 5: G = 10^(3/10), f_r = 1000 Hz;
 * f_m = f_r · G^(x/b) for odd b and f_r · G^((2x+1)/(2b)) for even b.
 *
 * Either way f_m = 10^(3 + n/(20b)), with n = 6x for odd b and 6x + 3 for even b. The whole powers of ten are
 * split off, so that the mid-bands at 100, 1000 and 10 000 Hz are those very numbers.
 */
const midBands = (bands: number): Family => {
  const perDecade = 20 * bands;
  const offset = bands % 2 === 0 ? 3 : 0;
  return {
    name: `mid-band frequency of 1/${bands} octave (IEC 61260-1)`,
    // Beyond 10^-6 and 10^9 on either side.
    lowest: -30 * bands - 1,
    highest: 20 * bands + 1,
    member: (x) => {
      const n = 6 * x + offset;
      const decade = Math.floor(n / perDecade);
      const withinDecade = (n - decade * perDecade) / perDecade;
      // Not `10 ** …`: its last bit is not the same in all versions of V8.
      return timesPowerOfTen(Math.exp(withinDecade * Math.LN10), 3 + decade);
    },
  };
};

/** Exact mid-bands, not nominal ones: the third-octave band called 20 Hz has its middle at 19.95 Hz. */
export const octaveFraction: QuantiserKind = {
  kind: 'octave-fraction',
  summary: 'exact mid-band frequencies of IEC 61260-1 in 1/fraction octave: from, to, fraction',
  create: (spec) => {
    const read = readParameters(spec, { from: positiveEnd, to: positiveEnd, fraction: wholeNumber(1, 192) });
    return read.ok ? familyWithin(midBands(read.value.fraction), read.value.from, read.value.to) : read;
  },
};
