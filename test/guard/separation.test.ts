import { describe, expect, it } from 'vitest';
import { phaseErrorAtRadians, separationDb, separationOfShareDb } from '../../src/guard/separation.js';
import { db } from '../../src/units/quantity.js';

const degrees = Math.PI / 180;

describe('separation', () => {
  // 40 log10 cot φ with cot from a table of trigonometric functions: 57.2900, 28.6363, 19.0811, 11.4301, 5.67128, 1.
  it.each([
    { phase: 1, expectedDb: 70.32 },
    { phase: 2, expectedDb: 58.28 },
    { phase: 3, expectedDb: 51.22 },
    { phase: 5, expectedDb: 42.32 },
    { phase: 10, expectedDb: 30.15 },
    { phase: 45, expectedDb: 0 },
    { phase: -3, expectedDb: 51.22 },
  ])('$phase° off: $expectedDb dB', ({ phase, expectedDb }) => {
    expect(separationDb(phase * degrees)).toBeCloseTo(expectedDb, 1);
  });

  it('is without bound where nothing is off, and the wrong way round beyond 45°', () => {
    expect(separationDb(0)).toBe(Infinity);
    expect(separationDb(60 * degrees)).toBeLessThan(0);
  });

  it.each([0.3, 4, 17, 33])('is what the channels of an ideal decoder give, at %d°', (phase) => {
    const doubled = Math.cos(2 * phase * degrees);
    expect(separationDb(phase * degrees)).toBeCloseTo(20 * Math.log10((1 + doubled) / (1 - doubled)), 6);
  });
});

describe('separation of what is left of the difference channel', () => {
  // 20 log10 of 2 + 1 over 2 − 1, and so on; by hand.
  it.each([
    { share: 0, expectedDb: 0 },
    { share: 1 / 2, expectedDb: 9.542 },
    { share: -1 / 2, expectedDb: -9.542 },
    { share: 9 / 11, expectedDb: 20 },
    { share: 1, expectedDb: Infinity },
  ])('$share: $expectedDb dB', ({ share, expectedDb }) => {
    expect(separationOfShareDb(share)).toBeCloseTo(expectedDb, 3);
  });

  // atan of 10^(−dB/40), from a table of trigonometric functions.
  it.each([
    { leastDb: 40, phase: 5.711 },
    { leastDb: 20, phase: 17.548 },
    { leastDb: 6, phase: 35.3 },
    { leastDb: 0, phase: 45 },
  ])('is less than $leastDb dB beyond $phase°', ({ leastDb, phase }) => {
    expect(phaseErrorAtRadians(db(leastDb)) / degrees).toBeCloseTo(phase, 2);
  });
});

describe('separation beside one interferer near the pilot', () => {
  // It turns the pilot by asin of the amplitude ratio at most; 40 log10 cot of that; by hand.
  it.each([
    { ratioDb: -40, phase: 0.57, worstDb: 80.0 },
    { ratioDb: -30, phase: 1.81, worstDb: 60.0 },
    { ratioDb: -20, phase: 5.74, worstDb: 39.9 },
    { ratioDb: -10, phase: 18.43, worstDb: 19.1 },
    { ratioDb: -6, phase: 30.08, worstDb: 9.5 },
  ])('$ratioDb dB: $phase°, $worstDb dB of separation at worst', ({ ratioDb, phase, worstDb }) => {
    const error = Math.asin(10 ** (ratioDb / 20));
    expect(Math.abs(error / degrees - phase)).toBeLessThan(0.006);
    expect(Math.abs(separationDb(error) - worstDb)).toBeLessThan(0.06);
  });
});
