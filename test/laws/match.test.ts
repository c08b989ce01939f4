import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Realisation } from '../../src/filters/realisation.js';
import { match } from '../../src/fitting/match/match.js';
import { nearest } from '../../src/fitting/nearest/nearest.js';
import { placedFilter } from '../../src/fitting/placement.js';
import type { Desk } from '../../src/model/desk.js';
import type { Intent } from '../../src/model/intent.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { QuantiserSpec } from '../../src/quantisers/quantiser.js';
import { db, hz, q } from '../../src/units/quantity.js';
import { differenceDb, leastDifferenceDb } from './match/exhaustive.js';

const realisations: readonly Realisation[] = [
  { id: 'cookbook-48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(48000) },
  { id: 'classic-44k1', design: 'cookbook', qMeaning: 'classic', sampleRateHz: hz(44100) },
  { id: 'matched-48k', design: 'matched', qMeaning: 'cookbook', sampleRateHz: hz(48000) },
  { id: 'analogue', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null },
];

type SlotTypes = Desk['target']['slots'][number]['types'];

const deskOf = (
  quantisers: Readonly<Record<string, QuantiserSpec>>,
  types: readonly SlotTypes[],
  ways: readonly number[],
): Desk => {
  const desk = makeDesk({
    format: 'bandwright-target/1',
    id: 'test-desk',
    title: 'A desk for tests',
    provenance: 'invented',
    outputs: { count: 2, stereo: 'legs-share' },
    quantisers,
    slots: types.map((each, index) => ({ id: `slot-${index}`, types: each })),
    realisations: ways.map((way) => realisations[way] as Realisation),
    display: {},
    evidence: { grid: 'untested', response: 'untested', push: 'untested' },
  });
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

const contextOf = (desk: Desk) => ({ desk, slots: desk.slots, guard: null, spareSlots: 0 });

/** To the tenth of a dB that a recipe tells. */
const shown = (worstDb: number): number => Number(worstDb.toFixed(1));

const table = (low: number, high: number, least: number, most: number) =>
  fc
    .uniqueArray(fc.integer({ min: low * 100, max: high * 100 }), { minLength: least, maxLength: most })
    .map((values) => ({ kind: 'table', values: values.sort((a, b) => a - b).map((value) => value / 100) }));

const ways = fc.uniqueArray(fc.constantFrom(0, 1, 2, 3), { minLength: 1, maxLength: 2 });

const bell = fc.record({
  type: fc.constant('peaking' as const),
  frequencyHz: fc.integer({ min: 700, max: 2200 }).map(hz),
  q: fc.constantFrom(0.4, 0.6, 1, 3).map(q),
  gainDb: fc.constantFrom(-12, -9, -6, -3, 4, 8).map(db),
});
const others = fc.constantFrom(
  { type: 'notch' as const, frequencyHz: hz(1250), q: q(4) },
  { type: 'lowshelf' as const, frequencyHz: hz(1000), gainDb: db(-6) },
  { type: 'highpass' as const, frequencyHz: hz(900), q: q(0.7) },
);
const roles = ['one', 'pilot-cut', 'two', 'three'];
const wishes = fc
  .array(fc.oneof({ weight: 4, arbitrary: bell }, { weight: 1, arbitrary: others }), {
    minLength: 1,
    maxLength: 4,
  })
  .chain((filters) =>
    fc
      .shuffledSubarray(roles, { minLength: filters.length, maxLength: filters.length })
      .map((names): readonly Intent[] => filters.map((filter, i) => ({ role: names[i] ?? '', ...filter }))),
  );

const slotKinds = fc.constantFrom<SlotTypes>(
  { peaking: { frequency: 'low', q: 'q', gain: 'gain' } },
  { peaking: { frequency: 'high', q: 'q', gain: 'gain' } },
  {
    peaking: { frequency: 'high', q: 2, gain: 'gain' },
    lowshelf: { frequency: 'low', q: 0.7, gain: 'gain' },
  },
  { notch: { frequency: 'high', q: 'q' }, peaking: { frequency: 'low', q: 'q', gain: -6 } },
);

const smallDesk = fc
  .record({
    low: table(750, 1500, 2, 3),
    high: table(1000, 1900, 2, 3),
    q: table(0.5, 4, 1, 2),
    gain: table(-16, 10, 2, 3),
    slots: fc.array(slotKinds, { minLength: 1, maxLength: 3 }),
    ways,
  })
  .map(({ slots, ways: built, ...quantisers }) => deskOf(quantisers, slots, built));

describe('match', () => {
  it('shows the least greatest difference there is, over every slot and setting open to it', () => {
    const seen = { leftOut: 0, substitute: 0, reseated: 0 };
    fc.assert(
      fc.property(smallDesk, wishes, (desk, intents) => {
        const context = contextOf(desk);
        const plain = nearest.fit(intents, context).filters;
        const nearestOn = (intent: Intent, id: string) => {
          const slots = desk.slots.filter((slot) => slot.id === id);
          const [placed] = nearest.fit([intent], { ...context, slots }).filters;
          return placed ? placedFilter(placed.type, placed.set) : null;
        };
        const { filters } = match.fit(intents, context);
        const reached = differenceDb(filters, intents, desk);
        const least = leastDifferenceDb(intents, desk, plain, nearestOn);
        expect(reached).toBeGreaterThanOrEqual(least - 1e-9);
        expect(shown(reached)).toBe(shown(least));
        expect(shown(reached)).toBeLessThanOrEqual(shown(differenceDb(plain, intents, desk)));

        seen.leftOut += Number(filters.length < intents.length);
        seen.substitute += Number(filters.some(({ type, asked }) => type !== asked.type));
        const placesOf = (of: typeof filters) => of.map(({ slot, role }) => slot + role).join();
        seen.reseated += Number(placesOf(filters) !== placesOf(plain));
      }),
      { numRuns: Number(process.env.RUNS ?? 300) },
    );
    // The cases that matter did come up.
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(0);
  });

  it('never shows a greater difference than nearest where there is too much to look at it all', () => {
    const geometric = (from: number, to: number, count: number) => ({ kind: 'geometric', from, to, count });
    const wide = fc.record({
      type: fc.constant('peaking' as const),
      frequencyHz: fc.integer({ min: 60, max: 16000 }).map(hz),
      q: fc.constantFrom(0.7, 1.4, 4, 9).map(q),
      gainDb: fc.integer({ min: -15, max: 9 }).map(db),
    });
    fc.assert(
      fc.property(
        fc.array(wide, { minLength: 2, maxLength: 8 }),
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 20, max: 90 }),
        ways,
        (filters, slotCount, count, built) => {
          const quantisers = {
            all: geometric(50, 18000, count),
            top: geometric(2000, 18000, count),
            q: geometric(0.5, 10, 21),
            gain: { kind: 'linear', from: -15, to: 12, step: 1 },
          };
          const types = Array.from(
            { length: slotCount },
            (_, i): SlotTypes => ({
              peaking: { frequency: i % 2 === 0 ? 'all' : 'top', q: 'q', gain: 'gain' },
            }),
          );
          const desk = deskOf(quantisers, types, built);
          const intents = filters.map((filter, i): Intent => ({ role: `r${i}`, ...filter }));
          const [matched, plain] = [match, nearest].map((fit) => fit.fit(intents, contextOf(desk)).filters);
          const of = (filters: typeof matched) => shown(differenceDb(filters ?? [], intents, desk));
          expect(matched).toHaveLength(plain?.length ?? 0);
          expect(of(matched)).toBeLessThanOrEqual(of(plain));
        },
      ),
      { numRuns: Number(process.env.RUNS ?? 12) },
    );
  });
});
