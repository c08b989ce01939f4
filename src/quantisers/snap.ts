/**
 * Finding steps on a grid, by bisection on its values: the same for every kind, since a grid only says where
 * its values lie.
 */
import { type Step, step } from '../units/quantity.js';
import { leastWhere } from './grid.js';
import type { Quantiser } from './quantiser.js';

/** How far apart two values are: by ratio (frequency, Q, bandwidth) or by difference (gain, slope). */
export type Measure = 'ratio' | 'difference';

/** Which of two equally near steps is taken. */
export type Tie = 'up' | 'down' | 'towards-zero';

/** What nearest means: how distance is measured, and which of two equally near steps is taken. */
export interface Snapping {
  readonly measure: Measure;
  readonly tie: Tie;
}

/** Distances that differ by less than this, relative to the values, are equal: they differ by rounding only. */
const tieTolerance = 1e-12;

const leastStepFrom = (grid: Quantiser, value: number): number =>
  leastWhere(0, grid.count, (index) => grid.valueAt(step(index)) >= value);

/**
 * How much farther `value` is from `below` than from `above`, as a share of the values; 0 at a tie. By ratio,
 * value / below against above / value, which have the same order as their logarithms; what is zero or
 * negative is infinitely far from every positive value.
 */
const imbalance = (measure: Measure, below: number, value: number, above: number): number => {
  const [toBelow, toAbove, size] =
    measure === 'difference'
      ? [value - below, above - value, Math.max(Math.abs(below), Math.abs(above))]
      : [below > 0 ? value / below : Number.POSITIVE_INFINITY, above / value, above / value];
  const difference = (toBelow - toAbove) / size;
  return Math.abs(difference) <= tieTolerance ? 0 : difference;
};

const tieGoesDown = (tie: Tie, below: number, above: number): boolean =>
  // Two values equally far from zero too: the lower one, since a gain that is lower raises no level.
  tie === 'down' || (tie === 'towards-zero' && Math.abs(below) <= Math.abs(above));

/**
 * The step whose value is nearest. Beyond an end of the grid it is the end step: compare `value` with what
 * that step holds to tell how far off it is.
 * Throws RangeError for a value that is not finite, or not positive where distance is by ratio.
 */
export const nearestStep = (grid: Quantiser, value: number, { measure, tie }: Snapping): Step => {
  if (!Number.isFinite(value) || (measure === 'ratio' && value <= 0)) {
    throw new RangeError(`${value} has no nearest step by ${measure}`);
  }
  const upper = leastStepFrom(grid, value);
  if (upper === 0) return step(0);
  if (upper === grid.count) return step(grid.count - 1);
  const above = grid.valueAt(step(upper));
  if (above === value) return step(upper);
  const below = grid.valueAt(step(upper - 1));
  const excess = imbalance(measure, below, value, above);
  const goesDown = excess === 0 ? tieGoesDown(tie, below, above) : excess < 0;
  return step(goesDown ? upper - 1 : upper);
};

/** The step that holds exactly this value, or null. */
export const stepOf = (grid: Quantiser, value: number): Step | null => {
  const index = leastStepFrom(grid, value);
  return index < grid.count && grid.valueAt(step(index)) === value ? step(index) : null;
};

/** The steps of a grid next to a value, which may lie on one of them. */
export interface StepsAround {
  readonly below: Step | null;
  readonly at: Step | null;
  readonly above: Step | null;
}

/** The last step below a value, the step at it and the first step above it; null where there is none. */
export const stepsAround = (grid: Quantiser, value: number): StepsAround => {
  const at = stepOf(grid, value);
  const upper = leastStepFrom(grid, value);
  const next = at === null ? upper : upper + 1;
  return {
    below: upper > 0 ? step(upper - 1) : null,
    at,
    above: next < grid.count ? step(next) : null,
  };
};
