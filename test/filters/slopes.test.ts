import { describe, expect, it } from 'vitest';
import { cutFamilies } from '../../src/filters/filter.js';
import { cutSections, familySlopes } from '../../src/filters/slopes.js';
import { dbPerOctave } from '../../src/units/quantity.js';

const qsOf = (slope: number, family: 'butterworth' | 'linkwitz-riley') =>
  cutSections(dbPerOctave(slope), family).map((section) => (section.order === 1 ? 'first order' : section.q));

/** Q = 1 / (2 sin((2k − 1)π / 2N)); N = 4 as printed in filter handbooks, the others from the formula. */
const butterworthQs: readonly (readonly [number, readonly (number | string)[]])[] = [
  [6, ['first order']],
  [12, [Math.SQRT1_2]],
  [18, ['first order', 1]],
  [24, [0.541196, 1.306563]],
  [30, ['first order', 0.618034, 1.618034]],
  [36, [0.517638, Math.SQRT1_2, 1.931852]],
  [42, ['first order', 0.554958, 0.801938, 2.24698]],
  [48, [0.509796, 0.601345, 0.899976, 2.562915]],
];

/** Two Butterworth cuts of half the order; two first-order sections are one of Q 0.5. */
const linkwitzRileyQs: readonly (readonly [number, readonly number[]])[] = [
  [12, [0.5]],
  [24, [Math.SQRT1_2, Math.SQRT1_2]],
  [36, [0.5, 1, 1]],
  [48, [0.541196, 0.541196, 1.306563, 1.306563]],
];

const expectQs = (found: readonly (number | string)[], expected: readonly (number | string)[]) => {
  expect(found).toHaveLength(expected.length);
  expected.forEach((q, i) => {
    if (typeof q === 'string') expect(found[i]).toBe(q);
    else expect(found[i]).toBeCloseTo(q, 6);
  });
};

describe('sections of cuts', () => {
  it.each(butterworthQs)('Butterworth, %d dB per octave', (slope, expected) => {
    expectQs(qsOf(slope, 'butterworth'), expected);
  });

  it.each(linkwitzRileyQs)('Linkwitz-Riley, %d dB per octave', (slope, expected) => {
    expectQs(qsOf(slope, 'linkwitz-riley'), expected);
  });

  it.each(cutFamilies)('%s: every slope it lists, and a RangeError for every other', (family) => {
    for (const slope of [0, 3, 6, 12, 13, 18, 24, 30, 36, 42, 48, 54, -12, Number.NaN]) {
      if (familySlopes[family].includes(slope)) expect(qsOf(slope, family).length).toBeGreaterThan(0);
      else expect(() => qsOf(slope, family)).toThrow(RangeError);
    }
  });

  it('says which slopes there are', () => {
    expect(() => qsOf(18, 'linkwitz-riley')).toThrow('12, 24, 36, 48');
  });
});
