/**
 * Ratios of levels. By `Math.exp`, not by `**`: what `**` gives in its last bit has changed between versions of
 * V8, and the same input is to give the same bytes on every Node.
 */

/** The ratio of amplitudes of a level in dB: 10^(dB/20). */
export const amplitudeRatio = (levelDb: number): number => Math.exp((levelDb * Math.LN10) / 20);

/** The ratio of powers of a level in dB: 10^(dB/10). */
export const powerRatio = (levelDb: number): number => Math.exp((levelDb * Math.LN10) / 10);
