import { printable, quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';
import { didYouMean } from '../units/suggest.js';
import { checkQuantiser } from './check.js';
import { continuous } from './continuous.js';
import { geometric } from './geometric.js';
import { linear } from './linear.js';
import { octaveFraction } from './octave-fraction.js';
import { piecewiseLinear } from './piecewise-linear.js';
import { preferredNumbers } from './preferred-numbers.js';
import type { Quantiser, QuantiserKind, QuantiserSpec } from './quantiser.js';
import { significantDigits } from './significant-digits.js';
import { table } from './table.js';

/** Every kind that comes with the project. */
export const quantiserKinds: readonly QuantiserKind[] = [
  linear,
  geometric,
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
    'one of your own comes with --quantiser and the file that defines it.'
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
