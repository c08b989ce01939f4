import { type Db, type Q, q } from '../units/quantity.js';
import { cookbookA } from './prototype.js';
import type { QMeaning } from './realisation.js';

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
 * - `classic`: the Q of a boost's poles, A·Qc = Q; a cut of the same depth mirrors the boost, so its zeros have
 *   that Q, Qc/A = Q. Both are Qc = Q / 10^(|dB|/40). (Zölzer, DAFX, 2nd ed., section 2.3, peak filters with
 *   a mirrored cut; from memory.)
 * - `constant-bandwidth`: the Q of the poles, boost or cut, A·Qc = Q. Then H − 1 = (G − 1)·(s/Q) / (s² + s/Q + 1):
 *   what is added or taken away is a resonance whose −3 dB width is f/Q whatever the gain (J. O. Smith,
 *   Introduction to Digital Filters, "Peaking Equalizers"; Bohn, Constant-Q Graphic Equalizers, JAES 34(9),
 *   1986). Of a cut's own curve the −3 dB width is f/Q · √(1 − 2G²): f/Q for a deep one, 3 % less at −15 dB; a
 *   cut shallower than 3 dB has none, so no rule could hold that width whatever the gain.
 */
export const qMeaningRules: Readonly<Record<QMeaning, QMeaningRule>> = {
  cookbook: {
    summary: 'between the points of half the gain in dB a bell is f/Q wide; cuts mirror boosts',
    cookbookQ: (knobQ) => knobQ,
  },
  classic: {
    summary: "Q of a boost's poles; cuts mirror boosts",
    cookbookQ: (knobQ, gainDb) => q(knobQ / cookbookA(Math.abs(gainDb))),
  },
  'constant-bandwidth': {
    summary: 'what is added or taken away is f/Q wide whatever the gain; cuts are narrower than boosts',
    cookbookQ: (knobQ, gainDb) => q(knobQ / cookbookA(gainDb)),
  },
};
