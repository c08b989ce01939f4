import type { Step } from '../units/quantity.js';
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
