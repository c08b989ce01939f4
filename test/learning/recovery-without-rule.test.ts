import { describe, expect, it } from 'vitest';
import { randomOtherDesk } from './other-desks.js';
import { recoverAll, seedsOf } from './recovery.js';

describe('knobs of random desks', () => {
  /**
   * Steps that change five times over, at places no reading may have come near, are not always found out within twenty
   * readings: then nothing is called settled.
   */
  it('are recovered or left open: steps that change', () => {
    const tally = recoverAll(seedsOf(6, 12));
    expect(tally.only / tally.all).toBeGreaterThanOrEqual(0.5);
  });

  it('are recovered: lists', () => {
    const tally = recoverAll(seedsOf(7, 30));
    expect(tally.only / tally.all).toBeGreaterThanOrEqual(0.9);
  });

  it('are recovered: gain, Q and slope', () => {
    const tally = recoverAll(
      Array.from({ length: 90 }, (_, seed) => seed),
      randomOtherDesk,
    );
    expect(tally.only / tally.all).toBeGreaterThanOrEqual(0.95);
    expect(tally.medianReadings).toBeLessThanOrEqual(7);
  });
});
