import type { Quantiser } from '../quantisers/quantiser.js';
import type { Measure } from '../quantisers/snap.js';
import { itemAt } from '../units/at.js';
import { step } from '../units/quantity.js';

/** A step far larger or smaller than those beside it: a slip in typing, or a stop that lies off the grid. */
export interface UnusualStep {
  /** Whether it is the first of the grid, the last, or one between. */
  readonly place: 'first' | 'last' | 'inner';
  readonly from: number;
  readonly to: number;
  /** How many times as large as the steps beside it; below 1 where it is smaller. */
  readonly times: number;
}

/** So many times as large, or as small, as all steps beside it: common grids, rounded ones too, stay well within. */
const usualTimes = 3;

/** Steps that are as good as equal: what is even by difference needs not be so by ratio, nor the other way round. */
const evenTimes = 1.5;

/** How much larger a step is than the larger of those beside it, or than the smaller one where it is smaller than both. */
const timesOf = (size: number, beside: readonly number[]): number => {
  const [least, most] = [Math.min(...beside), Math.max(...beside)];
  return size > most ? size / most : size < least ? size / least : 1;
};

const byDifference = (from: number, to: number): number => to - from;
const byRatio = (from: number, to: number): number => Math.log(to / from);

/**
 * The step from `values[at]` up, if it is unusual beside its neighbours by the knob's measure. Where it is even with
 * them by the other one, the grid is merely of the other kind.
 */
const unusualAt = (
  values: readonly number[],
  at: number,
  neighbours: readonly number[],
  measure: Measure,
): Omit<UnusualStep, 'place'> | null => {
  const timesBy = (sizeOf: (from: number, to: number) => number): number => {
    const size = (index: number) => sizeOf(itemAt(values, index), itemAt(values, index + 1));
    return timesOf(size(at), neighbours.map(size));
  };
  const isFar = (times: number, limit: number) => times > limit || times < 1 / limit;
  const times = timesBy(measure === 'ratio' ? byRatio : byDifference);
  const isEven = measure === 'ratio' && !isFar(timesBy(byDifference), evenTimes);
  return isFar(times, usualTimes) && !isEven
    ? { from: itemAt(values, at), to: itemAt(values, at + 1), times }
    : null;
};

/** Enough to judge the first step by the two behind it. */
const fewest = 4;

/**
 * The steps of a grid that are unusual: its first and its last beside the two next to each, and, where `inside` is to be
 * looked at too, the first one between that is unusual beside both its neighbours. A grid of fewer than four values has
 * none. Values are above 0 where the measure is by ratio.
 */
export const unusualSteps = (grid: Quantiser, measure: Measure, inside: boolean): readonly UnusualStep[] => {
  const { count } = grid;
  if (count < fewest) return [];
  const valuesFrom = (first: number, length: number): readonly number[] =>
    Array.from({ length }, (_, index) => grid.valueAt(step(first + index)));
  const first = unusualAt(valuesFrom(0, fewest), 0, [1, 2], measure);
  const last = unusualAt(valuesFrom(count - fewest, fewest), 2, [0, 1], measure);
  const inner = (): Omit<UnusualStep, 'place'> | null => {
    const values = valuesFrom(0, count);
    for (let at = 1; at < count - 2; at++) {
      const found = unusualAt(values, at, [at - 1, at + 1], measure);
      if (found !== null) return found;
    }
    return null;
  };
  // An end that is off the grid is large or small beside its neighbour, which is none for that.
  const between = inside && first === null && last === null ? inner() : null;
  return [
    ...(first ? [{ place: 'first' as const, ...first }] : []),
    ...(between ? [{ place: 'inner' as const, ...between }] : []),
    ...(last ? [{ place: 'last' as const, ...last }] : []),
  ];
};
