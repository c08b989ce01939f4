import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Filter } from '../../src/filters/filter.js';
import type { Realisation } from '../../src/filters/realisation.js';
import { guardTask } from '../../src/fitting/guard-task.js';
import { type GuardChoices, guardScope } from '../../src/guard/guard-scope.js';
import type { PlacedFilter } from '../../src/model/recipe.js';
import { makeGuard } from '../../src/recipes/make-guard.js';
import { db, dbPerOctave, hz } from '../../src/units/quantity.js';

interface Ratio {
  readonly part: string;
  readonly filters: readonly Filter[];
  readonly sampleRateHz: number | null;
  readonly preEmphasisMicroseconds: number;
  readonly lineUpDbfs: number;
  readonly windowHz: number;
  readonly image: string;
  readonly db: number;
}

/** Pilot over pink noise as SciPy has it (see test/published/make-pilot-table.py): 50 µs, 0 dBFS, mono. */
const ratios = readFileSync(new URL('../published/pilot-table.jsonl', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .map((line) => JSON.parse(line) as Ratio)
  .filter(
    ({ part, image, windowHz, preEmphasisMicroseconds, lineUpDbfs }) =>
      part === 'ratio' &&
      image === 'identical' &&
      windowHz === 100 &&
      preEmphasisMicroseconds === 50 &&
      lineUpDbfs === 0,
  );

const guardOf = (filters: readonly Filter[], rates: readonly (number | null)[], choices: GuardChoices) => {
  const realisations = rates.map(
    (rate): Realisation => ({
      id: `built-at-${rate}`,
      design: rate === null ? 'analogue' : 'cookbook',
      qMeaning: 'cookbook',
      sampleRateHz: rate === null ? null : hz(rate),
    }),
  );
  return makeGuard(
    filters.map(({ type, ...set }) => ({ type, set }) as unknown as PlacedFilter),
    realisations,
    guardTask([], realisations, guardScope(hz(19000), choices)),
  );
};

const filterSets = [...new Set(ratios.map(({ filters }) => JSON.stringify(filters)))];

describe('pilot over programme in a guard', () => {
  it.each(filterSets)('after %s, for each way of building and the worst', (key) => {
    const rows = ratios.filter(({ filters }) => JSON.stringify(filters) === key);
    const rates = rows.map(({ sampleRateHz }) => sampleRateHz);
    const guard = guardOf(JSON.parse(key), rates, { preEmphasisMicroseconds: 50 });
    expect(rows.length).toBeGreaterThan(1);
    rows.forEach((row, index) => {
      const range = guard.byRealisation[index]?.pilotToProgrammeDb;
      expect(range?.mostDb).toBeCloseTo(row.db, 4);
      // A line-up so many dB lower drives the link so many dB harder: 0, −6 and −12 dBFS are taken.
      expect(range?.leastDb).toBeCloseTo(row.db - 12, 4);
    });
    const worst = Math.min(...rows.map((row) => row.db));
    expect(guard.worst.pilotToProgrammeDb?.mostDb).toBeCloseTo(worst, 4);
    expect(guard.worst.pilotToProgrammeDb?.leastDb).toBeCloseTo(worst - 12, 4);
  });

  it('says what it was worked out for, and what it would be without a filter', () => {
    const bare = ratios.find(({ filters }) => filters.length === 0);
    expect(guardOf([], [48000], { preEmphasisMicroseconds: 50 })).toMatchObject({
      preEmphasisMicroseconds: [50],
      lineUpDbfs: [0, -6, -12],
      programme: { kind: 'pink', levelDbfs: -18, lowHz: 20, highHz: 20000, image: 'identical' },
      unfilteredPilotToProgrammeDb: { mostDb: expect.closeTo(bare?.db ?? Number.NaN, 4) },
    });
  });

  it('is one figure for a line-up and a pre-emphasis that are told', () => {
    const guard = guardOf([], [48000], { preEmphasisMicroseconds: 50, lineUpDbfs: db(-9) });
    const bare = ratios.find(({ filters }) => filters.length === 0)?.db ?? Number.NaN;
    expect(guard.lineUpDbfs).toEqual([-9]);
    expect(guard.worst.pilotToProgrammeDb?.leastDb).toBeCloseTo(bare - 9, 4);
    expect(guard.worst.pilotToProgrammeDb?.mostDb).toBeCloseTo(bare - 9, 4);
  });

  it('is null where nothing of the noise falls into the window', () => {
    const slow: Realisation = {
      id: 'slow',
      design: 'cookbook',
      qMeaning: 'cookbook',
      sampleRateHz: hz(48000),
    };
    const guard = makeGuard([], [slow], guardTask([], [slow], guardScope(hz(21000))));
    expect(guard.worst.pilotToProgrammeDb).toBeNull();
    expect(guard.unfilteredPilotToProgrammeDb).toBeNull();
  });

  it.each([
    // 0.9 of deviation over a 1 kHz sine, 50 µs lifting it by 0.409 dB; pink noise of -18 dBFS RMS is lifted by 5.863 dB
    // (midpoint rule by hand), and its peaks lie 12 dB above: at 0 dBFS they take 0.598, 6 dB lower 1.192.
    { source: 'hand arithmetic', microseconds: 50, tooLoud: [-6, -12] },
    // Without pre-emphasis nothing is lifted: 0.9 · 10^(−6/20) / √2 · 4 / 2 at 0 dBFS, 0.32; 0.64; 1.28 at −12 dBFS.
    { source: 'hand arithmetic', microseconds: 0, tooLoud: [-12] },
  ])(
    'names the line-ups that over-deviate with it, at $microseconds microseconds',
    ({ microseconds, tooLoud }) => {
      const { overDeviatingLineUpsDbfs } = guardOf([], [48000], { preEmphasisMicroseconds: microseconds });
      expect(overDeviatingLineUpsDbfs).toEqual(tooLoud);
    },
  );

  it('counts what the encoder takes by its own low-pass', () => {
    // A Butterworth low-pass of order 8 at 15 kHz takes 10 log10(1 + (18.9/15)^16) = 16.166 dB at 18.9 kHz, 16.881 dB at 19.1 kHz.
    const encoder = { encoderLowpassHz: hz(15000), encoderLowpassDbPerOctave: dbPerOctave(48) };
    const [bare, behind] = [{}, encoder].map((each) =>
      guardOf([], [48000], { preEmphasisMicroseconds: 75, ...each }),
    );
    expect(bare?.limits.pilotAttenuationAtLeastDb).toBeCloseTo(19.094, 3);
    expect(behind?.limits.pilotAttenuationAtLeastDb).toBeCloseTo(19.094 - 16.166, 2);
    const gainedDb =
      (behind?.worst.pilotToProgrammeDb?.mostDb ?? 0) - (bare?.worst.pilotToProgrammeDb?.mostDb ?? 0);
    expect(gainedDb).toBeGreaterThan(16.166);
    expect(gainedDb).toBeLessThan(16.881);
  });
});
