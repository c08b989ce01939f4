/**
 * Reads the parameters of a quantiser, so that a kind can be used without the schemas as well: every
 * parameter checked, none missing, none unknown.
 */
import { formatExact } from '../units/format.js';
import { quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';
import { didYouMean } from '../units/suggest.js';

/** What one parameter must be; `allowed` follows "must be". */
export interface ParameterRule<Value> {
  readonly allowed: string;
  accepts(value: unknown): value is Value;
}

type Rules = Readonly<Record<string, ParameterRule<unknown>>>;
type Values<Wanted extends Rules> = {
  readonly [Name in keyof Wanted]: Wanted[Name] extends ParameterRule<infer Value> ? Value : never;
};

const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);

/** Any number but NaN and the infinities. */
export const finite: ParameterRule<number> = { allowed: 'a finite number', accepts: isNumber };

/** A width of a step: never zero, never backwards. */
export const aboveZero: ParameterRule<number> = {
  allowed: 'a number above 0',
  accepts: (value): value is number => isNumber(value) && value > 0,
};

/** The end of a grid of ratios: wide enough for any knob, narrow enough that nothing over- or underflows. */
export const positiveEnd: ParameterRule<number> = {
  allowed: 'a number from 0.000001 to 1000000000',
  accepts: (value): value is number => isNumber(value) && value >= 1e-6 && value <= 1e9,
};

/** A count, both ends allowed. */
export const wholeNumber = (least: number, most: number): ParameterRule<number> => ({
  allowed: `a whole number from ${least} to ${most}`,
  accepts: (value): value is number =>
    isNumber(value) && Number.isInteger(value) && value >= least && value <= most,
});

/** One of some words. */
export const oneOf = <Word extends string>(words: readonly Word[]): ParameterRule<Word> => ({
  allowed: `one of ${words.map(quote).join(', ')}`,
  accepts: (value): value is Word => words.some((word) => word === value),
});

/** A list that is not empty; its items are not looked at. `things` says what they are, for messages. */
export const list = (things: string, most: number): ParameterRule<readonly unknown[]> => ({
  allowed: `a list of 1 to ${most} ${things}`,
  accepts: (value): value is readonly unknown[] =>
    Array.isArray(value) && value.length >= 1 && value.length <= most,
});

const unknownParameter = (name: string, known: readonly string[], at: string): string => {
  const meant = didYouMean(name, known);
  return `${quote(at + name)} is not a parameter of this kind of grid${meant || `; allowed are ${known.join(', ')}.`}`;
};

/** One value, found at `place`, as a rule has it. */
export const readValue = <Value>(
  place: string,
  value: unknown,
  rule: ParameterRule<Value>,
): Result<Value, string> =>
  rule.accepts(value) ? ok(value) : fail(`${quote(place)} must be ${rule.allowed}, but is ${quote(value)}.`);

/**
 * Reads the parameters that `rules` name from an object found at `at` (empty, or ending in a point).
 * `kind` is left to the registry.
 */
export const readParameters = <Wanted extends Rules>(
  spec: object,
  rules: Wanted,
  at = '',
): Result<Values<Wanted>, string> => {
  const known = Object.keys(rules);
  const unknown = Object.keys(spec).find((name) => !known.includes(name) && !(at === '' && name === 'kind'));
  if (unknown !== undefined) return fail(unknownParameter(unknown, known, at));
  const values: Record<string, unknown> = {};
  for (const [name, rule] of Object.entries(rules)) {
    const place = at + name;
    if (!Object.hasOwn(spec, name)) return fail(`${quote(place)} is missing; it must be ${rule.allowed}.`);
    const read = readValue(place, Reflect.get(spec, name), rule);
    if (!read.ok) return read;
    values[name] = read.value;
  }
  return ok(values as Values<Wanted>);
};

/** Why two ends are no range, or null: `from` must lie below `to`. */
export const rangeFault = (from: number, to: number, toName = 'to'): string | null => {
  if (from < to) return null;
  return from === to
    ? `"${toName}" is ${formatExact(to)}, no higher than where it starts; a knob that does not move is written as a number where its grid would be named.`
    : `"${toName}" must be above ${formatExact(from)}, where it starts, but is ${formatExact(to)}.`;
};
