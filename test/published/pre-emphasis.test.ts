import { describe, expect, it } from 'vitest';
import { preEmphasisDb, usualPreEmphasesMicroseconds } from '../../src/guard/modulation.js';
import { hz } from '../../src/units/quantity.js';

/**
 * ITU-R BS.450-3, 1.2, note 2: the admittance of a parallel RC of 50 or 75 µs; 47 CFR 73.317(e): 75 µs. The standards
 * draw the curve and do not tabulate it; the levels are 10 log10(1 + (2πfτ)²) worked out by hand.
 */
describe('pre-emphasis', () => {
  it('is of 50 or 75 µs', () => {
    expect(usualPreEmphasesMicroseconds).toEqual([50, 75]);
  });

  it.each([
    // The corner 1/(2πτ), where an RC has √2.
    { microseconds: 50, frequencyHz: 3183.1, expectedDb: 3.01 },
    { microseconds: 75, frequencyHz: 2122.1, expectedDb: 3.01 },
    { microseconds: 50, frequencyHz: 400, expectedDb: 0.068 },
    { microseconds: 50, frequencyHz: 1000, expectedDb: 0.409 },
    { microseconds: 50, frequencyHz: 5000, expectedDb: 5.4 },
    { microseconds: 50, frequencyHz: 10000, expectedDb: 10.362 },
    { microseconds: 50, frequencyHz: 15000, expectedDb: 13.656 },
    { microseconds: 50, frequencyHz: 19000, expectedDb: 15.638 },
    { microseconds: 75, frequencyHz: 1000, expectedDb: 0.871 },
    { microseconds: 75, frequencyHz: 10000, expectedDb: 13.656 },
    { microseconds: 75, frequencyHz: 15000, expectedDb: 17.073 },
    { microseconds: 75, frequencyHz: 19000, expectedDb: 19.094 },
    // In few links (from memory): 2π·19000·25e-6 = 2.98451, squared 8.90731; and none at all.
    { microseconds: 25, frequencyHz: 19000, expectedDb: 9.96 },
    { microseconds: 0, frequencyHz: 19000, expectedDb: 0 },
  ])('$microseconds µs at $frequencyHz Hz: $expectedDb dB', ({ microseconds, frequencyHz, expectedDb }) => {
    expect(Math.abs(preEmphasisDb(hz(frequencyHz), microseconds) - expectedDb)).toBeLessThan(0.0006);
  });
});
