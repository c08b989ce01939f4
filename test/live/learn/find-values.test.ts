import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { learnGrid } from '../../../src/learning/learn-grid.js';
import { findFractionCount, findLastIndex } from '../../../src/live/learn/find-count.js';
import { findValues } from '../../../src/live/learn/find-values.js';
import type { ValueKnob } from '../../../src/live/learn/grids-left.js';
import type { Between, KnobAnswer, Probing } from '../../../src/live/learn/probing.js';
import { makeQuantiser } from '../../../src/quantisers/registry.js';
import { step } from '../../../src/units/quantity.js';

/* The searches, on knobs in memory whose values are worked out here: what they find is held against those. */

interface MemoryKnob {
  readonly values: readonly number[];
  readonly between: Between;
  /** What it does with what lies beyond its ends. */
  readonly beyond: 'clamps' | 'refuses';
  readonly standing: number;
}

const top = (values: readonly number[]): number => values.at(-1) ?? Number.NaN;

/** Follows a search on a knob, and counts what it was sent. */
const runOn = <Found>(probing: Probing<Found>, { values, between, beyond, standing }: MemoryKnob) => {
  let stands = values[standing] ?? Number.NaN;
  let sent = 0;
  const take = (value: number): KnobAnswer => {
    sent++;
    const before = stands;
    const [bottom, last] = [values[0] ?? Number.NaN, top(values)];
    // A desk whose own values have more digits than it tells takes what it told for what it has.
    const slack = 1e-7 * Math.abs(value);
    const isBeyond = value < bottom - slack || value > last + slack;
    if (!isBeyond || beyond === 'clamps') {
      const lower = values.filter((each) => each <= value + slack).at(-1) ?? bottom;
      const upper = values.find((each) => each >= value - slack) ?? last;
      const isUpper = between === 'above' || (between === 'nearest' && upper - value <= value - lower);
      stands = Math.fround(isUpper ? upper : lower);
    }
    return { value: stands, moved: stands !== before };
  };
  stands = Math.fround(stands);
  let turn = probing.next();
  while (!turn.done) turn = probing.next(take(turn.value));
  return { found: turn.value, sent };
};

const float = new DataView(new ArrayBuffer(4));

const nextFloat = (value: number, direction: 1 | -1): number => {
  float.setFloat32(0, value);
  if (value === 0) return direction * 1e-30;
  float.setInt32(0, float.getInt32(0) + (value > 0 === (direction === 1) ? 1 : -1));
  return float.getFloat32(0);
};

const knobOf = (memory: MemoryKnob, knob: 'frequency' | 'gain'): ValueKnob => ({
  knob,
  measure: knob === 'gain' ? 'difference' : 'ratio',
  standing: Math.fround(memory.values[memory.standing] ?? Number.NaN),
  lowest: knob === 'gain' ? -100 : 1,
  highest: knob === 'gain' ? 40 : 200_000,
  next: nextFloat,
  asSent: Math.fround,
  seen: [],
  near: knob === 'frequency' ? 19_000 : null,
  isCoarse: false,
  told: (value) => {
    const half = Math.max(1e-9, (nextFloat(Math.abs(value), 1) - Math.abs(value)) / 2);
    const interval = { least: value - half, most: value + half };
    return { text: String(value), ifRounded: interval, ifCut: interval };
  },
  toldAsWhole: () => null,
});

/** A number sequence of its own: any will do. */
const places = (seed: number) => {
  let state = seed + 1;
  return (): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
};

const manners = {
  between: fc.constantFrom<Between>('nearest', 'below', 'above'),
  beyond: fc.constantFrom('clamps' as const, 'refuses' as const),
  at: fc.double({ min: 0, max: 0.999, noNaN: true }),
  seed: fc.integer({ min: 1, max: 1000 }),
};

const geometric = fc.record({
  from: fc.integer({ min: 10, max: 60 }),
  to: fc.integer({ min: 120, max: 240 }).map((hundreds) => hundreds * 100),
  count: fc.integer({ min: 40, max: 400 }),
  ...manners,
});

const linear = fc.record({
  steps: fc.integer({ min: 20, max: 200 }),
  step: fc.constantFrom(0.1, 0.25, 0.5, 0.75, 1),
  below: fc.integer({ min: 8, max: 16 }),
  ...manners,
});

const runs = { numRuns: 25 };

const valuesIn = (found: ReturnType<typeof runOn<unknown>>['found'], spec: unknown): readonly number[] => {
  const made = makeQuantiser(spec as never);
  if (!made.ok) throw new Error(`${made.error} ${JSON.stringify(found)}`);
  return Array.from({ length: made.value.count }, (_, index) => made.value.valueAt(step(index)));
};

const near = (one: number, other: number): boolean =>
  Math.abs(one - other) <= 1e-6 * Math.max(1, Math.abs(one));

describe('searching a knob', () => {
  it('finds frequencies in equal ratios, whatever it does between its steps and beyond its ends', () => {
    fc.assert(
      fc.property(geometric, ({ from, to, count, at, seed, between, beyond }) => {
        const values = Array.from({ length: count }, (_, k) => from * (to / from) ** (k / (count - 1)));
        const memory = { values, between, beyond, standing: Math.floor(at * count) };
        const { found, sent } = runOn(
          findValues(knobOf(memory, 'frequency'), learnGrid, places(seed)),
          memory,
        );
        expect(found.open).toBeNull();
        const told = valuesIn(found, found.grids[0]?.spec);
        expect(told.length).toBe(count);
        expect(told.every((value, k) => near(value, values[k] ?? Number.NaN))).toBe(true);
        expect(found.beyond).toEqual({ bottom: beyond, top: beyond });
        // A tenth of writing every one of them would be fewer only for the coarsest.
        expect(sent).toBeLessThan(200);
      }),
      runs,
    );
  });

  it('finds gains in equal steps, whatever it does between its steps and beyond its ends', () => {
    fc.assert(
      fc.property(linear, ({ steps, step: size, below, at, seed, between, beyond }) => {
        const values = Array.from({ length: steps + 1 }, (_, k) => -below + (k * (size * 100)) / 100).filter(
          (value) => value <= 24,
        );
        const memory = { values, between, beyond, standing: Math.floor(at * values.length) };
        const { found } = runOn(findValues(knobOf(memory, 'gain'), learnGrid, places(seed)), memory);
        expect(found.open).toBeNull();
        const told = valuesIn(found, found.grids[0]?.spec);
        expect(told.length).toBe(values.length);
        expect(told.every((value, k) => near(value, values[k] ?? Number.NaN))).toBe(true);
      }),
      runs,
    );
  });

  it('finds every value of a knob that follows no rule, where they are few', () => {
    const values = [
      40, 60, 100, 160, 250, 470, 630, 1000, 1600, 2900, 4000, 6300, 9100, 12_500, 15_000, 18_000,
    ];
    const memory = { values, between: 'nearest' as const, beyond: 'clamps' as const, standing: 7 };
    const { found } = runOn(findValues(knobOf(memory, 'frequency'), learnGrid, places(1)), memory);
    expect([found.open, found.isWhole]).toEqual([null, true]);
    expect(found.readings.readings.map(({ text }) => Number(text))).toEqual(values);
  });

  it('says so where it finds no rule', () => {
    // Steps that grow by their own squares: no kind of grid has that.
    const values = Array.from({ length: 150 }, (_, k) => 20 + k + k * k * 0.7 + (k % 3) * 0.31);
    const memory = { values, between: 'nearest' as const, beyond: 'clamps' as const, standing: 60 };
    const { found } = runOn(findValues(knobOf(memory, 'frequency'), learnGrid, places(1)), memory);
    expect(found.grids).toEqual([]);
    expect(found.open).toContain('No grid');
  });

  it('counts steps that are only numbered, refused or not beyond the last', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 5000 }), manners.at, manners.beyond, (count, at, beyond) => {
        const values = Array.from({ length: count }, (_, k) => k);
        const memory = { values, between: 'nearest' as const, beyond, standing: Math.floor(at * count) };
        const habits = { refusesSteps: false, refusesTexts: false };
        const { found, sent } = runOn(findLastIndex(memory.standing, habits, true), memory);
        expect([found.count, found.open]).toEqual([count, null]);
        // Twice the number of binary digits, and a few.
        expect(sent).toBeLessThan(2 * Math.log2(count) + 8);
      }),
      runs,
    );
  });

  it('counts steps that are told as a share of the way', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 900 }), manners.at, manners.seed, (count, at, seed) => {
        const values = Array.from({ length: count }, (_, k) => k / (count - 1));
        const memory = {
          values,
          between: 'nearest' as const,
          beyond: 'clamps' as const,
          standing: Math.floor(at * count),
        };
        const knob = { ...knobOf(memory, 'gain'), lowest: 0, highest: 1 };
        const { found } = runOn(findFractionCount(knob, places(seed)), memory);
        expect([found.count, found.open]).toEqual([count, null]);
      }),
      runs,
    );
  });
});
