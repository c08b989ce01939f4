import { describe, expect, it } from 'vitest';
import { recoverAll, seedsOf } from './recovery.js';

/**
 * 124 random desks, rounding and cutting off. Every number of so many digits takes two readings more than other rules: a
 * click at either end, and one pair far from both, since lists and changing steps have round values too.
 */
describe('frequency knobs of random desks', () => {
  it.each([
    { kind: 'linear', seeds: seedsOf(2, 62), mostMedian: 5 },
    { kind: 'significant-digits', seeds: seedsOf(5, 62), mostMedian: 7 },
  ])('are recovered: $kind', ({ seeds, mostMedian }) => {
    const tally = recoverAll(seeds);
    expect(tally.only / tally.all).toBeGreaterThanOrEqual(0.95);
    expect(tally.medianReadings).toBeLessThanOrEqual(mostMedian);
  });
});
