import { formatExact } from '../units/exact.js';
import { fail, ok, type Result } from '../units/result.js';
import { leastWhere } from './bisect.js';
import { makeGrid } from './grid.js';
import { rangeFault } from './parameters.js';
import type { Quantiser } from './quantiser.js';

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
