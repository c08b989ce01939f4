import { formatExact } from '../units/format.js';
import type { Step } from '../units/quantity.js';
import { fail, ok, type Result } from '../units/result.js';
import { rangeFault } from './parameters.js';
import type { Quantiser } from './quantiser.js';

/** The most steps a grid may have: a step fits 32 bits, and no knob is finer than every 32-bit float. */
export const mostSteps = 2 ** 32;

/** Makes a grid of `count` values from a rule for the value at a step; the rule only ever sees good steps. */
export const makeGrid = (count: number, valueOn: (step: number) => number): Quantiser => ({
  count,
  valueAt: (step: Step): number => {
    if (!Number.isInteger(step) || step < 0 || step >= count) {
      throw new RangeError(
        `step ${step} is not on this grid: steps are whole numbers from 0 to ${count - 1}`,
      );
    }
    return valueOn(step);
  },
});

/** The grid of a knob that does not move: one step. Throws RangeError for a value that is not finite. */
export const fixedGrid = (value: number): Quantiser => {
  if (!Number.isFinite(value)) throw new RangeError(`a fixed value is a finite number, not ${value}`);
  const withoutNegativeZero = value + 0;
  return makeGrid(1, () => withoutNegativeZero);
};

/**
 * The least integer from `low` up to but excluding `end` at which `holds`, or `end` if there is none.
 * `holds` must be monotone: once true, true for every greater integer.
 */
export const leastWhere = (low: number, end: number, holds: (integer: number) => boolean): number => {
  let [least, bound] = [low, end];
  while (least < bound) {
    // Not `>> 1`: grids have up to 2^32 steps, more than bit operators hold.
    const middle = least + Math.floor((bound - least) / 2);
    if (holds(middle)) bound = middle;
    else least = middle + 1;
  }
  return least;
};

/** An unending family of rising values, numbered by integers; only `lowest` to `highest` are ever asked for. */
export interface Family {
  /** What one of them is called: `preferred number of R10`. */
  readonly name: string;
  readonly lowest: number;
  readonly highest: number;
  member(ordinal: number): number;
}

/** The grid of those members of a family that lie from `from` to `to`, both included. Error: none does. */
export const familyWithin = (family: Family, from: number, to: number): Result<Quantiser, string> => {
  const fault = rangeFault(from, to);
  if (fault !== null) return fail(fault);
  const { lowest, highest, member } = family;
  const first = leastWhere(lowest, highest, (ordinal) => member(ordinal) >= from);
  const end = leastWhere(first, highest + 1, (ordinal) => member(ordinal) > to);
  if (end > first) return ok(makeGrid(end - first, (index) => member(first + index)));
  const around = [first - 1, first].map((ordinal) => formatExact(member(ordinal)));
  return fail(
    `no ${family.name} lies from ${formatExact(from)} to ${formatExact(to)}; the nearest are ${around.join(' and ')}.`,
  );
};
