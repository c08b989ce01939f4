import { describe, expect, it } from 'vitest';
import { recoverAll, seedsOf } from './recovery.js';

/** 124 random desks: 3 and 4 digits, rounding and cutting off. */
describe('frequency knobs of random desks', () => {
  it.each([
    { kind: 'octave-fraction', seeds: seedsOf(3, 62), mostMedian: 5 },
    { kind: 'preferred-numbers', seeds: seedsOf(4, 62), mostMedian: 5 },
  ])('are recovered: $kind', ({ seeds, mostMedian }) => {
    const tally = recoverAll(seeds);
    expect(tally.only / tally.all).toBeGreaterThanOrEqual(0.95);
    expect(tally.medianReadings).toBeLessThanOrEqual(mostMedian);
  });
});
