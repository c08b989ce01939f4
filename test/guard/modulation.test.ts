import { describe, expect, it } from 'vitest';
import { deviationPerFullScale, pilotDeviation, usualLineUpsDbfs } from '../../src/guard/modulation.js';
import { db } from '../../src/units/quantity.js';

describe('line-up', () => {
  // 0.9 / (10^(line-up/20) · √(1 + (2π · 1000 · τ)²)): 1.048187 for 50 µs, 1.105471 for 75 µs; by hand.
  it.each([
    { microseconds: 50, lineUpDbfs: 0, expected: 0.9 / 1.048187 },
    { microseconds: 75, lineUpDbfs: 0, expected: 0.9 / 1.105471 },
    { microseconds: 0, lineUpDbfs: 0, expected: 0.9 },
    { microseconds: 0, lineUpDbfs: -20, expected: 9 },
    { microseconds: 50, lineUpDbfs: -6, expected: (0.9 / 1.048187) * 1.995262 },
  ])('$lineUpDbfs dBFS, $microseconds µs', ({ microseconds, lineUpDbfs, expected }) => {
    const gain = deviationPerFullScale({ preEmphasisMicroseconds: microseconds, lineUpDbfs: db(lineUpDbfs) });
    expect(gain / expected).toBeCloseTo(1, 5);
  });

  it('keeps the pilot within 8 to 10 % of deviation (47 CFR 73.322(a)(2))', () => {
    expect(pilotDeviation).toBeGreaterThanOrEqual(0.08);
    expect(pilotDeviation).toBeLessThanOrEqual(0.1);
  });

  it('the usual ones are told from the gentlest to the hottest', () => {
    expect(usualLineUpsDbfs).toEqual([0, -6, -12]);
  });
});
