import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Quantiser, QuantiserSpec } from '../../src/quantisers/quantiser.js';
import { checkQuantiser, makeQuantiser, quantiserKinds } from '../../src/quantisers/registry.js';
import { type Measure, nearestStep, stepOf, stepsAround, type Tie } from '../../src/quantisers/snap.js';
import { step } from '../../src/units/quantity.js';
import { decimalKinds, kinds, searchable, smallKinds } from './quantiser-cases.js';

const gridOf = (spec: QuantiserSpec): Quantiser => {
  const made = makeQuantiser(spec);
  if (!made.ok) throw new Error(`${JSON.stringify(spec)}: ${made.error}`);
  return made.value;
};

const measures: readonly Measure[] = ['ratio', 'difference'];
const ties: readonly Tie[] = ['up', 'down', 'towards-zero'];

const valuesOf = (grid: Quantiser): readonly number[] =>
  Array.from({ length: grid.count }, (_, index) => grid.valueAt(step(index)));

/** A place on a grid, from 0 at the bottom to 1 at the top, as a step. */
const stepAt = (grid: Quantiser, share: number): number =>
  Math.min(grid.count - 1, Math.floor(share * grid.count));

const share = fc.double({ min: 0, max: 1, noNaN: true });

/** Values to snap: on the grid, halfway by either measure, anywhere between, and beyond the ends. */
const valueNear = (grid: Quantiser, at: number, how: number): number => {
  const index = stepAt(grid, at);
  const here = grid.valueAt(step(index));
  const next = grid.valueAt(step(Math.min(grid.count - 1, index + 1)));
  if (how < 0.2) return (here + next) / 2;
  if (how < 0.4 && here > 0) return Math.sqrt(here) * Math.sqrt(next);
  if (how > 0.95) return next + Math.abs(next) + 1;
  if (how > 0.9) return here - Math.abs(here) - 1;
  return here + (next - here) * how;
};

const canBeBy = (measure: Measure, value: number): boolean => measure === 'difference' || value > 0;

const distance = (measure: Measure, value: number, other: number): number => {
  if (measure === 'difference') return Math.abs(value - other);
  return other > 0 ? Math.abs(Math.log(value / other)) : Number.POSITIVE_INFINITY;
};

/** Distances nearer to each other than this are not told apart: by ratio absolute, by difference in scale. */
const slack = (measure: Measure, ...values: readonly number[]): number =>
  4e-12 * (measure === 'ratio' ? 1 : Math.max(...values.map(Math.abs)));

describe('the kinds tried here', () => {
  it('are all there are', () => {
    expect(new Set(kinds.map(([kind]) => kind))).toEqual(new Set(quantiserKinds.map(({ kind }) => kind)));
  });
});

describe.each(kinds.filter(([kind]) => decimalKinds.includes(kind)))(
  'every %s grid, being decimal',
  (_, cases) => {
    it('holds the very doubles of its decimals', () => {
      fc.assert(
        fc.property(cases, share, ({ spec, exactly }, at) => {
          const grid = gridOf(spec);
          const index = stepAt(grid, at);
          const value = grid.valueAt(step(index));
          expect(value).toBe(exactly?.(index, value));
        }),
      );
    });
  },
);

describe('a grid of significant digits', () => {
  it('holds every number of so many digits in its range', () => {
    const typed = fc.tuple(fc.integer({ min: 1, max: 7 }), fc.double({ min: 20, max: 20_000, noNaN: true }));
    fc.assert(
      fc.property(typed, ([digits, value]) => {
        const grid = gridOf({ kind: 'significant-digits', from: 1, to: 1e5, digits });
        expect(stepOf(grid, Number(value.toPrecision(digits)))).not.toBeNull();
      }),
    );
  });
});

describe('a grid of steps to the octave or decade', () => {
  const counted = fc.record({
    digits: fc.integer({ min: 1, max: 9999 }),
    places: fc.integer({ min: 0, max: 3 }),
    per: fc.integer({ min: 1, max: 200 }),
    whole: fc.integer({ min: 1, max: 4 }),
  });

  it('holds whole decades above its start as they are written, and doublings of it', () => {
    fc.assert(
      fc.property(counted, ({ digits, places, per, whole }) => {
        const from = Number(`${digits}e-${places}`);
        const decades = gridOf({ kind: 'ratio-steps', from, to: from * 99_999, perDecade: per });
        expect(decades.valueAt(step(per * whole))).toBe(Number(`${digits}e${whole - places}`));
        const octaves = gridOf({ kind: 'ratio-steps', from, to: from * 99_999, perOctave: per });
        const doublings = [2, 4, 8, 16];
        expect(octaves.valueAt(step(per * whole))).toBe(from * (doublings[whole - 1] ?? Number.NaN));
      }),
    );
  });

  it('rises by one ratio, and ends where another step would be above its end', () => {
    const tenths = fc.integer({ min: 30, max: 2000 });
    fc.assert(
      fc.property(counted, tenths, share, ({ digits, per }, steps, at) => {
        const perOctave = steps / 10;
        const to = digits * (2 + per);
        const grid = gridOf({ kind: 'ratio-steps', from: digits, to, perOctave });
        const ratio = 2 ** (1 / perOctave);
        const index = Math.min(stepAt(grid, at), grid.count - 2);
        const [here, next] = [grid.valueAt(step(index)), grid.valueAt(step(index + 1))];
        expect(next / here / ratio).toBeCloseTo(1, 12);
        expect(grid.valueAt(step(grid.count - 1)) * ratio).toBeGreaterThan(to * (1 - 1e-12));
      }),
    );
  });
});

describe.each(kinds)('every %s grid', (_, cases) => {
  it('passes the check for grids from outside', () => {
    fc.assert(
      fc.property(cases, ({ spec }) => {
        expect(checkQuantiser(gridOf(spec))).toBeNull();
      }),
      { numRuns: 25 },
    );
  });

  it('rises strictly from step to step, and has no negative zero', () => {
    fc.assert(
      fc.property(cases, share, ({ spec }, at) => {
        const grid = gridOf(spec);
        const index = stepAt(grid, at);
        const value = grid.valueAt(step(index));
        expect(Number.isFinite(value) && !Object.is(value, -0)).toBe(true);
        if (index > 0) expect(value).toBeGreaterThan(grid.valueAt(step(index - 1)));
      }),
    );
  });

  it('stays within the range it was given', () => {
    fc.assert(
      fc.property(cases, ({ spec }) => {
        const grid = gridOf(spec);
        const [bottom, top] = [grid.valueAt(step(0)), grid.valueAt(step(grid.count - 1))];
        if (typeof spec.from === 'number') expect(bottom).toBeGreaterThanOrEqual(spec.from);
        if (typeof spec.to === 'number') expect(top).toBeLessThanOrEqual(spec.to);
      }),
    );
  });

  it('refuses steps that are not on it', () => {
    fc.assert(
      fc.property(cases, ({ spec }) => {
        const grid = gridOf(spec);
        for (const bad of [-1, grid.count, 0.5, Number.NaN, Number.POSITIVE_INFINITY]) {
          expect(() => grid.valueAt(step(bad))).toThrow(RangeError);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('has every step snap to itself, whatever the measure and the tie', () => {
    fc.assert(
      fc.property(
        cases,
        share,
        fc.constantFrom(...measures),
        fc.constantFrom(...ties),
        ({ spec }, at, measure, tie) => {
          const grid = gridOf(spec);
          const index = stepAt(grid, at);
          const value = grid.valueAt(step(index));
          expect(stepOf(grid, value)).toBe(index);
          if (canBeBy(measure, value)) expect(nearestStep(grid, value, { measure, tie })).toBe(index);
        },
      ),
    );
  });

  it('snaps a greater value no lower', () => {
    fc.assert(
      fc.property(
        cases,
        share,
        share,
        share,
        fc.constantFrom(...measures),
        fc.constantFrom(...ties),
        ({ spec }, at, how, otherHow, measure, tie) => {
          const grid = gridOf(spec);
          const [less, more] = [valueNear(grid, at, how), valueNear(grid, at, otherHow)].sort(
            (a, b) => a - b,
          );
          if (less === undefined || more === undefined) throw new RangeError('two values were sorted');
          fc.pre(canBeBy(measure, less));
          const snapping = { measure, tie };
          expect(nearestStep(grid, less, snapping)).toBeLessThanOrEqual(nearestStep(grid, more, snapping));
        },
      ),
    );
  });

  it('settles a tie as it is told', () => {
    fc.assert(
      fc.property(
        cases,
        share,
        fc.constantFrom(...measures),
        fc.constantFrom(...ties),
        ({ spec }, at, measure, tie) => {
          const grid = gridOf(spec);
          const index = stepAt(grid, at);
          fc.pre(index + 1 < grid.count);
          const [below, above] = [grid.valueAt(step(index)), grid.valueAt(step(index + 1))];
          fc.pre(canBeBy(measure, below));
          const halfway = measure === 'ratio' ? Math.sqrt(below) * Math.sqrt(above) : (below + above) / 2;
          // Neighbours so close that no double lies between have no halfway.
          fc.pre(below < halfway && halfway < above);
          const goesDown = tie === 'down' || (tie === 'towards-zero' && Math.abs(below) <= Math.abs(above));
          expect(nearestStep(grid, halfway, { measure, tie })).toBe(goesDown ? index : index + 1);
        },
      ),
    );
  });
});

describe.each(smallKinds)('every small %s grid', (_, cases) => {
  it('snaps to the step that a search through all of them finds nearest', () => {
    fc.assert(
      fc.property(
        cases,
        share,
        share,
        fc.constantFrom(...measures),
        fc.constantFrom(...ties),
        ({ spec }, at, how, measure, tie) => {
          const grid = gridOf(spec);
          const value = valueNear(grid, at, how);
          fc.pre(grid.count <= searchable && canBeBy(measure, value));
          const values = valuesOf(grid);
          const chosen = nearestStep(grid, value, { measure, tie });
          const far = (index: number) => distance(measure, value, values[index] ?? Number.NaN);
          const least = Math.min(...values.map((_value, index) => far(index)));
          // Where even the nearest is infinitely far, every step is as good as any other.
          fc.pre(least < Number.POSITIVE_INFINITY);
          expect(far(chosen)).toBeLessThanOrEqual(least + slack(measure, value, values[chosen] ?? 0));
        },
      ),
    );
  });

  it('has neighbours strictly below and above any value', () => {
    fc.assert(
      fc.property(cases, share, share, ({ spec }, at, how) => {
        const grid = gridOf(spec);
        fc.pre(grid.count <= searchable);
        const value = valueNear(grid, at, how);
        const values = valuesOf(grid);
        const orNull = (index: number) => (index === -1 ? null : index);
        expect(stepsAround(grid, value)).toEqual({
          below: orNull(values.findLastIndex((other) => other < value)),
          at: orNull(values.indexOf(value)),
          above: orNull(values.findIndex((other) => other > value)),
        });
      }),
    );
  });
});
