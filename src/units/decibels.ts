/**
 * Ratios of levels, and the digits that show a level. Ratios by `Math.exp`, not by `**`: what `**` gives in its last bit
 * has changed between versions of V8, and the same input is to give the same bytes on every Node.
 */

/** The ratio of amplitudes of a level in dB: 10^(dB/20). */
export const amplitudeRatio = (levelDb: number): number => Math.exp((levelDb * Math.LN10) / 20);

/** The ratio of powers of a level in dB: 10^(dB/10). */
export const powerRatio = (levelDb: number): number => Math.exp((levelDb * Math.LN10) / 10);

/** More tell nothing of a level: what still looks alike differs by rounding. */
const mostDecimals = 8;

/**
 * As few decimals, from `least` up, as leave a statement true of the numbers as they are shown: that a figure misses its
 * limit, that a ratio is not 1. `holds` is given the rounding to try. Null where eight are too few.
 */
export const fewestDecimals = (
  least: number,
  holds: (rounded: (value: number) => number) => boolean,
): number | null => {
  for (let decimals = least; decimals <= mostDecimals; decimals++) {
    if (holds((value) => Number(value.toFixed(decimals)))) return decimals;
  }
  return null;
};
