import { type Db, type Hz, type Octaves, octaves, type Q, q } from '../units/quantity.js';
import { cookbookA } from './prototype.js';
import type { QMeaning } from './realisation.js';

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

/** One reading of the number on a bell's Q knob. */
export interface QMeaningRule {
  /** One line for people. */
  readonly summary: string;
  /** The cookbook's Q of the bell that a knob at `knobQ` makes at this gain. */
  readonly cookbookQ: (knobQ: Q, gainDb: Db) => Q;
}

/**
 * What the number on a bell's Q knob may mean, and how each turns into the cookbook's Q.
 *
 * All of them make bells of one shape, (s² + s·A/Qc + 1) / (s² + s/(A·Qc) + 1), whose gain at the centre is
 * G = A²; Qc is the cookbook's Q, the poles have Q A·Qc and the zeros Qc/A. They differ in what is held still
 * while the gain changes. Types other than bells have one Q and no choice.
 *
 * - `cookbook`: Qc itself. The width between the points of half the gain in dB is f/Qc (W3C Audio EQ
 *   Cookbook, "A·Q is the classic EE Q").
 * - `classic`: the Q of the poles of a gain above 0 dB, A·Qc = Q; a cut of the same depth mirrors it, so its zeros have
 *   that Q, Qc/A = Q. Both are Qc = Q / 10^(|dB|/40). (Zölzer, DAFX, 2nd ed., section 2.3, peak filters with
 *   a mirrored cut; from memory.)
 * - `constant-bandwidth`: the Q of the poles, lift or cut, A·Qc = Q. Then H − 1 = (G − 1)·(s/Q) / (s² + s/Q + 1):
 *   what is added or taken away is a resonance whose −3 dB width is f/Q whatever the gain (J. O. Smith,
 *   Introduction to Digital Filters, "Peaking Equalizers"; Bohn, Constant-Q Graphic Equalizers, JAES 34(9),
 *   1986). Of a cut's own curve the −3 dB width is f/Q · √(1 − 2G²): f/Q for a deep one, 3 % less at −15 dB; a
 *   cut shallower than 3 dB has none, so no rule could hold that width whatever the gain.
 */
export const qMeaningRules: Readonly<Record<QMeaning, QMeaningRule>> = {
  cookbook: {
    summary: 'between the points of half the gain in dB a bell is f/Q wide; cuts mirror lifts',
    cookbookQ: (knobQ) => knobQ,
  },
  classic: {
    summary: "Q of a lift's poles; cuts mirror lifts",
    cookbookQ: (knobQ, gainDb) => q(knobQ / cookbookA(Math.abs(gainDb))),
  },
  'constant-bandwidth': {
    summary: 'what is added or taken away is f/Q wide whatever the gain; cuts are narrower than lifts',
    cookbookQ: (knobQ, gainDb) => q(knobQ / cookbookA(gainDb)),
  },
};
