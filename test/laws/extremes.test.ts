import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exceedsDb, highestDb, lowestDb } from '../../src/filters/extremes.js';
import { filterTypes, gainTypes } from '../../src/filters/filter.js';
import { designNames } from '../../src/filters/realisation.js';
import type { Section } from '../../src/filters/section.js';
import { build, levelsDb } from '../filters/measure.js';

const byRatio = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);

const filters = fc
  .record({
    type: fc.constantFrom(...filterTypes),
    frequencyHz: byRatio(25, 21000),
    q: byRatio(0.3, 200),
    gainDb: fc.double({ min: -18, max: 18, noNaN: true }),
  })
  .map(({ gainDb, ...filter }) => (gainTypes.includes(filter.type) ? { ...filter, gainDb } : filter));

const chains = fc
  .record({
    some: fc.array(filters, { minLength: 1, maxLength: 6 }),
    design: fc.constantFrom(...designNames),
    fs: fc.constantFrom(44100, 48000, 96000),
  })
  .map(({ some, design, fs }) => some.flatMap((filter) => build(filter, design, fs)));

const bands = fc
  .tuple(byRatio(20, 20000), byRatio(20, 20000))
  .map(([a, b]) => ({ fromHz: Math.min(a, b), toHz: Math.max(a, b) }));

/** 1/2000 octave apart, far denser than any of these filters is narrow, then denser still round the best of them. */
const scannedDb = (
  chain: readonly Section[],
  { fromHz, toHz }: { readonly fromHz: number; readonly toHz: number },
  sign: 1 | -1,
): number => {
  let [low, high, best] = [fromHz, toHz, Number.NEGATIVE_INFINITY];
  for (
    let count = Math.ceil(2000 * Math.log2(toHz / fromHz)) + 2, round = 0;
    round < 4;
    round++, count = 100
  ) {
    const hz = Float64Array.from({ length: count }, (_, i) =>
      Math.min(toHz, low * (high / low) ** (i / (count - 1))),
    );
    const levels = levelsDb(chain, hz).map((level) => sign * level);
    const top = levels.reduce((most, level, i) => (level > (levels[most] as number) ? i : most), 0);
    best = Math.max(best, levels[top] as number);
    [low, high] = [hz[Math.max(0, top - 1)] as number, hz[Math.min(count - 1, top + 1)] as number];
  }
  return sign * best;
};

const runs = { numRuns: Number(process.env.RUNS ?? 150) };

/** The last digits of responses, and what lies between the last scanned of a peak. */
const roundingDb = 1e-7;
/** Where filters undo each other a curve may be flat over a wide stretch, and its most told to so much. */
const toleranceDb = 1e-5;

describe('the extremes of a chain over a band', () => {
  it('lie nowhere below what a dense scan finds, and no farther above it than the scan is coarse', () => {
    fc.assert(
      fc.property(chains, bands, (chain, band) => {
        const [most, least] = [highestDb(chain, band), lowestDb(chain, band)];
        const [scannedMost, scannedLeast] = [scannedDb(chain, band, 1), scannedDb(chain, band, -1)];
        expect(most).toBeGreaterThanOrEqual(scannedMost - toleranceDb);
        expect(most).toBeLessThanOrEqual(scannedMost + roundingDb);
        expect(least).toBeLessThanOrEqual(scannedLeast + toleranceDb);
        // A notch is as deep as its nearest point looked at.
        if (least > -100) expect(least).toBeGreaterThanOrEqual(scannedLeast - roundingDb);
      }),
      runs,
    );
  });

  it('are those of its parts: the worse of two halves of a band', () => {
    fc.assert(
      fc.property(chains, bands, fc.double({ min: 0, max: 1, noNaN: true }), (chain, band, share) => {
        const middleHz = band.fromHz + share * (band.toHz - band.fromHz);
        const halves = [
          { ...band, toHz: middleHz },
          { ...band, fromHz: middleHz },
        ];
        const most = Math.max(...halves.map((half) => highestDb(chain, half)));
        expect(Math.abs(most - highestDb(chain, band))).toBeLessThan(toleranceDb);
      }),
      runs,
    );
  });

  it('decide what exceeds a level', () => {
    fc.assert(
      fc.property(chains, bands, fc.double({ min: -3, max: 3, noNaN: true }), (chain, band, offDb) => {
        fc.pre(Math.abs(offDb) > 2 * toleranceDb);
        const most = highestDb(chain, band);
        fc.pre(most > -190);
        expect(exceedsDb(chain, band, most - offDb)).toBe(offDb > 0);
      }),
      runs,
    );
  });
});
