import { formatExact } from '../units/exact.js';
import { fail, ok, type Result } from '../units/result.js';
import { leastWhere } from './bisect.js';
import { asInteger, decimalPlaces, timesPowerOfTen } from './decimal.js';
import { makeGrid, mostSteps } from './grid.js';
import { rangeFault } from './parameters.js';
import type { Quantiser } from './quantiser.js';

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
    const run = laid[
      leastWhere(0, laid.length - 1, (at) => (laid[at] as IntegerRun).last >= index)
    ] as IntegerRun;
    return timesPowerOfTen(run.start + (index - run.first) * run.step, -places);
  };
  return ok(makeGrid(count, valueOn));
};
