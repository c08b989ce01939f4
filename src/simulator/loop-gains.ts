import type { Hz } from '../units/quantity.js';
import { hz } from '../units/quantity.js';

/**
 * The loop noise bandwidth taken where nobody says which: 30 Hz. A receiver's own is seldom published: US patent
 * 5,202,924 (1993) tells 300 Hz while searching and 10 Hz once locked; the analysis of an open-source FM receiver
 * (Zenodo record 7979897) a loop of 30 Hz. Real receivers vary: take 10 to 300 Hz for the range.
 */
export const usualLoopNoiseBandwidthHz = hz(30);

/** Damping of the loop: 1/√2, the usual compromise between speed and overshoot. */
export const loopDamping = Math.SQRT1_2;

/**
 * The natural frequency in radians per second of a second-order loop with a proportional and an integrating path,
 * from its one-sided noise bandwidth: B = (ωn / 2)(ζ + 1 / 4ζ) (Gardner, Phaselock Techniques: from memory).
 */
export const naturalFrequency = (noiseBandwidthHz: Hz): number =>
  (2 * noiseBandwidthHz) / (loopDamping + 1 / (4 * loopDamping));
