import { formatExact } from '../units/format.js';
import { step } from '../units/quantity.js';
import { printable, quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';
import { didYouMean } from '../units/suggest.js';
import { continuous } from './continuous.js';
import { geometric } from './geometric.js';
import { mostSteps } from './grid.js';
import { linear } from './linear.js';
import { octaveFraction } from './octave-fraction.js';
import { piecewiseLinear } from './piecewise-linear.js';
import { preferredNumbers } from './preferred-numbers.js';
import type { Quantiser, QuantiserKind, QuantiserSpec } from './quantiser.js';
import { ratioSteps } from './ratio-steps.js';
import { significantDigits } from './significant-digits.js';
import { table } from './table.js';

/** Up to so many steps every one is looked at; of more, this many runs of neighbours spread evenly. */
const looksAtMost = 10_000;
const runs = 1000;
const runLength = 8;

/** The steps looked at, in rising order: the same ones every time. */
function* steps(count: number): Generator<number> {
  if (count <= looksAtMost) {
    for (let index = 0; index < count; index++) yield index;
    return;
  }
  for (let run = 0; run < runs; run++) {
    const start = Math.floor((run * (count - runLength)) / (runs - 1));
    for (let index = start; index < start + runLength; index++) yield index;
  }
}

const refuses = (grid: Quantiser, bad: number): boolean => {
  try {
    grid.valueAt(step(bad));
    return false;
  } catch (error) {
    return error instanceof RangeError;
  }
};

const valuesFault = (grid: Quantiser): string | null => {
  let [last, before] = [-1, Number.NEGATIVE_INFINITY];
  for (const index of steps(grid.count)) {
    const value: unknown = grid.valueAt(step(index));
    if (typeof value !== 'number' || !Number.isFinite(value) || Object.is(value, -0)) {
      return `valueAt(${index}) is ${quote(value)}; every value must be a finite number, and zero without a sign.`;
    }
    if (value <= before) {
      return `valueAt(${index}) is ${formatExact(value)}, not above valueAt(${last}), ${formatExact(before)}; values must rise strictly.`;
    }
    if (grid.valueAt(step(index)) !== value) {
      return `valueAt(${index}) gives another value when asked again; it must depend on the step alone.`;
    }
    [last, before] = [index, value];
  }
  const bad = [-1, grid.count, 0.5, Number.NaN].find((index) => !refuses(grid, index));
  return bad === undefined
    ? null
    : `valueAt(${bad}) must throw a RangeError: steps are whole numbers from 0 to ${grid.count - 1}.`;
};

/**
 * What is wrong with a grid that came from a module of the user's own, in one sentence, or null: that
 * `count` is a whole number from 1 to 2^32, that values are finite, rise strictly and never change, and that
 * a step off the grid throws RangeError. Of a grid of more than 10 000 steps a fixed sample is looked at: a
 * thousand runs of eight neighbours, spread evenly and with both ends.
 */
export const checkQuantiser = (grid: Quantiser): string | null => {
  try {
    if (typeof grid?.valueAt !== 'function') return 'the grid has no valueAt function.';
    if (!Number.isInteger(grid.count) || grid.count < 1 || grid.count > mostSteps) {
      return `count must be a whole number from 1 to ${mostSteps}, but is ${quote(grid.count)}.`;
    }
    return valuesFault(grid);
  } catch (error) {
    return `the grid fails when asked for its steps: ${quote(error instanceof Error ? error.message : error)}.`;
  }
};

/** Every kind that comes with the project. */
export const quantiserKinds: readonly QuantiserKind[] = [
  linear,
  geometric,
  ratioSteps,
  octaveFraction,
  preferredNumbers,
  significantDigits,
  piecewiseLinear,
  table,
  continuous,
];

const unknownKind = (kind: unknown, kinds: readonly QuantiserKind[]): string => {
  const names = kinds.map((known) => known.kind);
  const meant = typeof kind === 'string' ? didYouMean(kind, names) : '';
  return (
    `${quote(kind)} is not a kind of grid known here${meant || '.'} The kinds are ${names.join(', ')}; ` +
    'one of your own comes with the module that defines it.'
  );
};

/** A kind from outside may throw and may make a grid that is none; both are told as its failure. */
const makeForeign = (kind: QuantiserKind, spec: QuantiserSpec): Result<Quantiser, string> => {
  const blame = (fault: string) => fail(`the module that defines ${quote(kind.kind)} is at fault: ${fault}`);
  try {
    const made = kind.create(spec);
    if (!made.ok) return fail(printable(String(made.error)));
    const fault = checkQuantiser(made.value);
    return fault === null ? ok(made.value) : blame(fault);
  } catch (error) {
    return blame(`create fails with ${quote(error instanceof Error ? error.message : error)}.`);
  }
};

/**
 * Makes the grid that a descriptor describes, by one of `kinds`.
 * Errors: a kind that is not among them, parameters that the kind refuses, and for a kind from outside
 * whatever `checkQuantiser` finds.
 */
export const makeQuantiser = (
  spec: QuantiserSpec,
  kinds: readonly QuantiserKind[] = quantiserKinds,
): Result<Quantiser, string> => {
  const kind = kinds.find((known) => known.kind === spec.kind);
  if (kind === undefined) return fail(unknownKind(spec.kind, kinds));
  return quantiserKinds.includes(kind) ? kind.create(spec) : makeForeign(kind, spec);
};
