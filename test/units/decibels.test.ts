import { describe, expect, it } from 'vitest';
import { amplitudeRatio, fewestDecimals, powerRatio } from '../../src/units/decibels.js';

// The decibel: 20 dB are ten times the amplitude, 10 dB ten times the power (ISO 80000-3).
it('ratios of levels', () => {
  expect(amplitudeRatio(20)).toBeCloseTo(10, 12);
  expect(powerRatio(10)).toBeCloseTo(10, 12);
  expect(amplitudeRatio(0)).toBe(1);
});

describe('fewest decimals', () => {
  // By hand.
  it.each([
    { valueDb: 0.4, least: 1, decimals: 1 },
    { valueDb: 0.04, least: 1, decimals: 2 },
    { valueDb: 0.04, least: 3, decimals: 3 },
    { valueDb: 0.000004, least: 1, decimals: 6 },
    { valueDb: 1e-12, least: 1, decimals: null },
  ])('show $valueDb dB as more than nothing: $decimals, from $least up', ({ valueDb, least, decimals }) => {
    expect(fewestDecimals(least, (rounded) => rounded(valueDb) > 0)).toBe(decimals);
  });

  it('keep two numbers in the order they are in', () => {
    expect(fewestDecimals(1, (rounded) => rounded(14.96) < rounded(15))).toBe(2);
  });
});
