import { makeGrid } from './grid.js';
import type { Quantiser } from './quantiser.js';

/** The grid of a knob that does not move: one step. Throws RangeError for a value that is not finite. */
export const fixedGrid = (value: number): Quantiser => {
  if (!Number.isFinite(value)) throw new RangeError(`a fixed value is a finite number, not ${value}`);
  const withoutNegativeZero = value + 0;
  return makeGrid(1, () => withoutNegativeZero);
};
