import { type Hz, type Octaves, octaves, type Q, q } from '../units/quantity.js';
import { cookbookA } from './prototype.js';

/**
 * The ways a width is told, turned into one another. All of them are the relations printed in the W3C Audio
 * EQ Cookbook (Note of 8 June 2021), and their inverses.
 */

/** Q of an analogue filter this many octaves wide: 1/Q = 2 sinh(ln 2 / 2 · BW). */
export const qOfBandwidth = (bandwidthOctaves: Octaves): Q =>
  q(1 / (2 * Math.sinh((Math.LN2 / 2) * bandwidthOctaves)));

/** Width in octaves of an analogue filter of this Q. */
export const bandwidthOfQ = (q: Q): Octaves => octaves((2 / Math.LN2) * Math.asinh(1 / (2 * q)));

/**
 * How much narrower the bilinear transform makes a narrow filter: ω0 / sin ω0. It is 1 at low frequencies
 * and grows without bound towards half the sample rate.
 */
export const bilinearNarrowing = (frequencyHz: Hz, sampleRateHz: Hz): number => {
  const w0 = (2 * Math.PI * frequencyHz) / sampleRateHz;
  return w0 / Math.sin(w0);
};

/**
 * Q that gives a bilinear filter this width in octaves: 1/Q = 2 sinh(ln 2 / 2 · BW · ω0 / sin ω0). It makes
 * up for the narrowing at the centre only, so it is exact for narrow filters and low frequencies.
 */
export const qOfDigitalBandwidth = (bandwidthOctaves: Octaves, frequencyHz: Hz, sampleRateHz: Hz): Q =>
  qOfBandwidth(octaves(bandwidthOctaves * bilinearNarrowing(frequencyHz, sampleRateHz)));

/** The inverse of `qOfDigitalBandwidth`. */
export const digitalBandwidthOfQ = (q: Q, frequencyHz: Hz, sampleRateHz: Hz): Octaves =>
  octaves(bandwidthOfQ(q) / bilinearNarrowing(frequencyHz, sampleRateHz));

/**
 * Q of a shelf of slope S: 1/Q = √((A + 1/A)(1/S − 1) + 2). S = 1 is the steepest monotonic shelf, Q 0.7071
 * whatever the gain. Throws RangeError for a slope so far above 1 that no shelf of this gain has it.
 */
export const qOfShelfSlope = (shelfSlope: number, gainDb: number): Q => {
  const A = cookbookA(gainDb);
  const square = (A + 1 / A) * (1 / shelfSlope - 1) + 2;
  if (!(square > 0)) throw new RangeError(`no shelf of ${gainDb} dB has the slope ${shelfSlope}`);
  return q(1 / Math.sqrt(square));
};

/** The slope S of a shelf of this Q; above 1 where the shelf overshoots (Q above 0.7071). */
export const shelfSlopeOfQ = (q: Q, gainDb: number): number => {
  const A = cookbookA(gainDb);
  return 1 / ((1 / (q * q) - 2) / (A + 1 / A) + 1);
};
