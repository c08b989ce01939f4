import type { DbPerOctave } from '../units/quantity.js';
import { type Q, q } from '../units/quantity.js';
import type { CutFamily } from './filter.js';

/** One section of a cut: first order, or second order with its Q. All lie at the cut's own frequency. */
export type CutSection = { readonly order: 1 } | { readonly order: 2; readonly q: Q };

/** The slopes each family exists for, in dB per octave. */
export const familySlopes: Readonly<Record<CutFamily, readonly number[]>> = {
  butterworth: [6, 12, 18, 24, 30, 36, 42, 48],
  'linkwitz-riley': [12, 24, 36, 48],
};

/**
 * The sections of a cut with a slope.
 *
 * Butterworth of order N = slope / 6: sections of Q 1 / (2 sin((2k − 1)π / 2N)), k = 1 … ⌊N/2⌋, widest first,
 * after a first-order one where N is odd; −3.01 dB at the cut's frequency. (Butterworth, "On the Theory of
 * Filter Amplifiers", 1930.)
 * Linkwitz-Riley of order 2N: a Butterworth of order N twice over, −6.02 dB at the cut's frequency; its two
 * first-order sections, where N is odd, are one section of Q 0.5. (Linkwitz, "Active Crossover Networks for
 * Noncoincident Drivers", JAES 24(1), 1976.)
 *
 * Throws RangeError for a slope the family does not have (see `familySlopes`).
 */
export const cutSections = (slopeDbPerOctave: DbPerOctave, family: CutFamily): readonly CutSection[] => {
  if (!familySlopes[family].includes(slopeDbPerOctave)) {
    const allowed = familySlopes[family].join(', ');
    throw new RangeError(`no ${family} cut has ${slopeDbPerOctave} dB per octave; there are ${allowed}`);
  }
  const order = slopeDbPerOctave / 6;
  if (family === 'butterworth') {
    return order % 2 === 1 ? [{ order: 1 }, ...butterworthPairs(order)] : butterworthPairs(order);
  }
  const half = order / 2;
  const twice = butterworthPairs(half).flatMap((pair) => [pair, pair]);
  return half % 2 === 1 ? [{ order: 2, q: q(0.5) }, ...twice] : twice;
};

const butterworthPairs = (order: number): CutSection[] =>
  Array.from({ length: Math.floor(order / 2) }, (_, pair) => {
    // Counted down so that the widest section comes first.
    const k = Math.floor(order / 2) - pair;
    return { order: 2, q: q(1 / (2 * Math.sin(((2 * k - 1) * Math.PI) / (2 * order)))) };
  });
