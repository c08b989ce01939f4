import { describe, expect, it } from 'vitest';
import type { Quantiser, QuantiserSpec } from '../../src/quantisers/quantiser.js';
import { makeQuantiser } from '../../src/quantisers/registry.js';
import { type Measure, nearestStep, stepOf, stepsAround, type Tie } from '../../src/quantisers/snap.js';
import { step } from '../../src/units/quantity.js';

const gridOf = (spec: QuantiserSpec): Quantiser => {
  const made = makeQuantiser(spec);
  if (!made.ok) throw new Error(made.error);
  return made.value;
};

const tableOf = (...values: readonly number[]): Quantiser => gridOf({ kind: 'table', values });

const snapped = (grid: Quantiser, value: number, measure: Measure, tie: Tie): number =>
  grid.valueAt(nearestStep(grid, value, { measure, tie }));

describe('nearestStep', () => {
  it.each<readonly [string, readonly number[], number, Measure, Tie, number]>([
    // Between 100 and 400 the middle by ratio is 200, by difference 250.
    ['by ratio', [100, 400], 201, 'ratio', 'down', 400],
    ['by ratio', [100, 400], 199, 'ratio', 'up', 100],
    ['by difference', [100, 400], 249, 'difference', 'up', 100],
    ['by difference', [100, 400], 251, 'difference', 'down', 400],
    ['a tie by ratio', [100, 400], 200, 'ratio', 'up', 400],
    ['a tie by ratio', [100, 400], 200, 'ratio', 'down', 100],
    ['a tie by ratio', [100, 400], 200, 'ratio', 'towards-zero', 100],
    ['a tie by difference', [-6, -3], -4.5, 'difference', 'up', -3],
    ['a tie by difference', [-6, -3], -4.5, 'difference', 'down', -6],
    ['a tie between cuts', [-6, -3], -4.5, 'difference', 'towards-zero', -3],
    ['a tie between boosts', [3, 6], 4.5, 'difference', 'towards-zero', 3],
    ['a tie across zero, equally far from it, raises no level', [-1, 1], 0, 'difference', 'towards-zero', -1],
    // In doubles 0.15 is nearer to 0.1 and 19000.15 nearer to 19000.2; in the decimals meant, both are ties.
    ['a tie blurred by rounding', [0.1, 0.2], 0.15, 'difference', 'up', 0.2],
    ['a tie blurred by rounding', [0.1, 0.2], 0.15, 'difference', 'down', 0.1],
    ['a tie blurred by rounding', [19000.1, 19000.2], 19000.15, 'difference', 'down', 19000.1],
    ['a tie blurred by rounding', [19000.1, 19000.2], 19000.15, 'difference', 'up', 19000.2],
    ['a tie blurred by rounding', [2, 3], Math.sqrt(6), 'ratio', 'up', 3],
    ['a tie blurred by rounding', [2, 3], Math.sqrt(6), 'ratio', 'down', 2],
    ['just off a tie', [2, 3], Math.sqrt(6) * (1 - 1e-11), 'ratio', 'up', 2],
    ['just off a tie', [2, 3], Math.sqrt(6) * (1 + 1e-11), 'ratio', 'down', 3],
    ['below the bottom', [20, 30], 1, 'ratio', 'up', 20],
    ['above the top', [20, 30], 1e9, 'ratio', 'down', 30],
    ['below the bottom', [-15, 15], -99, 'difference', 'up', -15],
    ['zero is far from everything by ratio', [0, 20], 0.001, 'ratio', 'down', 20],
    ['a single step', [12], 48, 'difference', 'up', 12],
  ])('%s: on %j, %d by %s with ties %s is %d', (_, values, value, measure, tie, expected) => {
    expect(snapped(tableOf(...values), value, measure, tie)).toBe(expected);
  });

  it.each([
    [Number.NaN, 'difference'],
    [Number.POSITIVE_INFINITY, 'difference'],
    [0, 'ratio'],
    [-20, 'ratio'],
  ] as const)('%d by %s is nobody’s neighbour', (value, measure) => {
    expect(() => nearestStep(tableOf(1, 2), value, { measure, tie: 'up' })).toThrow(RangeError);
  });

  it('asks a grid of two thousand million steps for a few dozen values only', () => {
    const floats = gridOf({ kind: 'continuous', from: -15, to: 15 });
    let asked = 0;
    const counting: Quantiser = {
      count: floats.count,
      valueAt: (index) => {
        asked++;
        return floats.valueAt(index);
      },
    };
    expect(snapped(counting, -7.3, 'difference', 'up')).toBe(Math.fround(-7.3));
    expect(floats.count).toBeGreaterThan(2e9);
    expect(asked).toBeLessThan(40);
  });
});

describe('stepOf', () => {
  const gains = gridOf({ kind: 'linear', from: -15, to: 15, step: 0.1 });

  it.each([
    [-15, 0],
    [0, 150],
    [-0, 150],
    [0.3, 153],
    [15, 300],
    [0.1 + 0.2, null],
    [15.1, null],
    [-99, null],
    [Number.NaN, null],
  ])('%d is step %j', (value, expected) => {
    expect(stepOf(gains, value)).toBe(expected);
  });
});

describe('stepsAround', () => {
  it.each([
    [9, { below: null, at: null, above: 0 }],
    [10, { below: null, at: 0, above: 1 }],
    [15, { below: 0, at: null, above: 1 }],
    [20, { below: 0, at: 1, above: 2 }],
    [30, { below: 1, at: 2, above: null }],
    [31, { below: 2, at: null, above: null }],
  ])('%d on 10, 20, 30 lies between', (value, expected) => {
    expect(stepsAround(tableOf(10, 20, 30), value)).toEqual(expected);
  });

  it('a step that is hit is told exactly', () => {
    const { at } = stepsAround(tableOf(10, 20, 30), 20);
    expect(at).toBe(step(1));
  });
});
