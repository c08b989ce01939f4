import { itemAt } from '../units/at.js';
import { formatExact } from '../units/format.js';
import { fail, ok, type Result } from '../units/result.js';
import { leastWhere, makeGrid, mostSteps } from './grid.js';
import { rangeFault } from './parameters.js';
import type { Quantiser } from './quantiser.js';

/**
 * Exact decimals. A grid that counts in decimals must hold the very double that its value written out as
 * a literal would be: 0.3, not 0.30000000000000004. So values are integers n and a power of ten p, and become
 * doubles by one operation: n / 10^-p or n · 10^p. Integers up to 2^53 and powers of ten up to 10^22 are
 * exact as doubles (5^22 < 2^53), and IEEE 754 division and multiplication are correctly rounded; a literal
 * is correctly rounded too (ECMA-262), so both give the double nearest to the same real number.
 */

const mostPlaces = 22;

// From text, since `10 ** n` need not be exact (ECMA-262 leaves it to the engine).
const powersOfTen = Array.from({ length: mostPlaces + 1 }, (_, power) => Number(`1e${power}`));

/** `factor` · 10^`power` with one rounding; powers from -22 to 22. */
export const timesPowerOfTen = (factor: number, power: number): number => {
  const scale = powersOfTen[Math.abs(power)];
  if (scale === undefined) throw new RangeError(`10^${power} is not exact as a double`);
  return power < 0 ? factor / scale : factor * scale;
};

/** Digits and exponent of the shortest decimal that reads back to the same double. */
const shortest = (value: number): { readonly mantissa: string; readonly exponent: number } => {
  const [mantissa = '', exponent = '0'] = String(value).split('e');
  return { mantissa, exponent: Number(exponent) };
};

/** How many digits the shortest decimal of a number has after its point: 0 for 1e21, 2 for 0.25. */
export const decimalPlaces = (value: number): number => {
  const { mantissa, exponent } = shortest(value);
  return Math.max(0, (mantissa.split('.')[1] ?? '').length - exponent);
};

/** The double that a number's shortest decimal is with its point moved: 1.1 by two places is 110, as it is when typed. */
export const shiftedDecimal = (value: number, places: number): number => {
  const { mantissa, exponent } = shortest(value);
  return Number(`${mantissa}e${exponent + places}`);
};

/** A number's shortest decimal times 10^`places`, or null where that is no integer or more than is exact. */
export const asInteger = (value: number, places: number): number | null => {
  if (places > mostPlaces) return null;
  const integer = shiftedDecimal(value, places);
  return Number.isSafeInteger(integer) ? integer : null;
};

/** A run of equal steps up to and including `to`; `at` is where it stands in the descriptor, for messages. */
export interface Run {
  readonly to: number;
  readonly step: number;
  readonly at: string;
}

/** A run in integers of the grid's last decimal place: from `start` at the grid's step `first` to its `last`. */
interface IntegerRun {
  readonly start: number;
  readonly step: number;
  readonly first: number;
  readonly last: number;
}

const nearestEnds = (start: number, step: number, excess: number, stop: number, places: number): string => {
  const below = stop - excess;
  const ends = below > start ? [below, below + step] : [below + step];
  const values = ends.map((end) => formatExact(timesPowerOfTen(end, -places))).join(' and ');
  return ends.length > 1 ? `the nearest that work are ${values}` : `the nearest that works is ${values}`;
};

/** Lays a run on top of `from`, the value at the grid's step `first`, counting in units of 10^-`places`. */
const layRun = (from: number, first: number, run: Run, places: number): Result<IntegerRun, string> => {
  const fault = rangeFault(from, run.to, `${run.at}to`);
  if (fault !== null) return fail(fault);
  const [start, stop, step] = [from, run.to, run.step].map((value) => asInteger(value, places));
  if (start == null || stop == null || step == null || !Number.isSafeInteger(stop - start)) {
    return fail(
      `the grid needs ${places} decimal places up to "${run.at}to", ${formatExact(run.to)}; ` +
        'that is more digits than can be kept exact, 15 in all are safe.',
    );
  }
  const excess = (stop - start) % step;
  if (excess !== 0) {
    return fail(
      `"${run.at}to" is ${formatExact(run.to)}, which is no whole number of steps of ${formatExact(run.step)} ` +
        `above ${formatExact(from)}; ${nearestEnds(start, step, excess, stop, places)}.`,
    );
  }
  return ok({ start, step, first, last: first + (stop - start) / step });
};

/**
 * A grid of one or more runs of equal steps, each beginning where the one before ends, in exact decimals.
 * Errors: a run that does not rise, one that is no whole number of steps, more digits than a double holds
 * exactly, more steps than a grid may have.
 */
export const decimalRuns = (from: number, runs: readonly Run[]): Result<Quantiser, string> => {
  const places = Math.max(...[from, ...runs.flatMap(({ to, step }) => [to, step])].map(decimalPlaces));
  const laid: IntegerRun[] = [];
  for (const [index, run] of runs.entries()) {
    const integerRun = layRun(runs[index - 1]?.to ?? from, laid.at(-1)?.last ?? 0, run, places);
    if (!integerRun.ok) return integerRun;
    laid.push(integerRun.value);
  }
  const count = (laid.at(-1)?.last ?? 0) + 1;
  if (count > mostSteps) {
    return fail(`the grid has ${count} steps; at most ${mostSteps} are allowed, so make its steps larger.`);
  }
  const valueOn = (index: number): number => {
    const run = itemAt(
      laid,
      leastWhere(0, laid.length - 1, (at) => itemAt(laid, at).last >= index),
    );
    return timesPowerOfTen(run.start + (index - run.first) * run.step, -places);
  };
  return ok(makeGrid(count, valueOn));
};
