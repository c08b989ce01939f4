import type { Knob } from '../../../model/knob.js';
import { knobParsers } from '../../../model/parse-knob.js';
import type { QuantiserSpec } from '../../../quantisers/quantiser.js';
import { makeQuantiser } from '../../../quantisers/registry.js';
import { limits } from '../../../units/generated/limits.js';
import { parseCount } from '../../../units/parse.js';
import { parseList } from '../../../units/parse-list.js';
import { quoteText } from '../../../units/quote.js';
import { fail, ok, type Result } from '../../../units/result.js';

/** What a saying holds: values of the knob, counts, and the name of a series. */
interface Said {
  readonly from: number;
  readonly to: number;
  readonly step: number;
  readonly count: number;
  /** A number of steps that need not be whole. */
  readonly many: number;
  readonly per: string;
  readonly series: string;
}

/** A way of saying a grid, by a pattern over the whole text, whose groups are named as what they hold. */
interface Saying {
  readonly pattern: RegExp;
  /** Of this knob alone. */
  readonly of?: Knob;
  spec(said: Said, knob: Knob): QuantiserSpec;
  /** Why there is none, as a sentence. */
  refuses?(said: Said): string | null;
}

const range = '(?<from>\\S.*?)\\s*(?:\\bto\\b|\\.\\.+|\\u2026)\\s*(?<to>\\S.*?)';

const mostDecimals = 9;
const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals)) + 0;

/** Equal differences: a linear grid, or where no decimal is their step, as in 128 positions from -15 to 15, the values. */
const equalSteps = ({ from, to, count }: Said): QuantiserSpec => {
  const gaps = Math.max(1, count - 1);
  const step = Number((Math.abs(to - from) / gaps || 1).toPrecision(12));
  const linear = { kind: 'linear', from, to, step };
  // Both kinds say the same of ends that do not rise, and the linear one what else is wrong.
  if (from >= to || count > limits.tableValues.most || makeQuantiser(linear).ok) return linear;
  const valueAt = (at: number): number => rounded(from + ((to - from) * at) / gaps, mostDecimals);
  return { kind: 'table', values: Array.from({ length: count }, (_, at) => (at < gaps ? valueAt(at) : to)) };
};

/** Ratios for what is heard as ratios, differences for what is heard as differences. */
const evenly = (said: Said, knob: Knob): QuantiserSpec =>
  knob === 'gain' || knob === 'slope'
    ? equalSteps(said)
    : { kind: 'geometric', from: said.from, to: said.to, count: said.count };

const decimalsOfPlainSteps = 3;

/**
 * How far apart the values lie that were written out for want of a decimal step, and where one more or less would have one,
 * which may be meant; null of every other grid.
 */
export const spacingWords = (spec: QuantiserSpec, knob: Knob): string | null => {
  const values = spec.kind === 'table' && Array.isArray(spec.values) ? (spec.values as number[]) : [];
  const [first = 0, last = 0, count] = [values[0], values.at(-1), values.length];
  const apart = (steps: number): number => (last - first) / steps;
  const isEven = values.every((value, at) => Math.abs(first + at * apart(count - 1) - value) < 1e-8);
  if (count < 3 || !isEven || (knob !== 'gain' && knob !== 'slope')) return null;
  const unit = knob === 'gain' ? 'dB' : 'dB/oct';
  const plain = [count + 1, count - 1].find(
    (other) => Math.abs(apart(other - 1) - rounded(apart(other - 1), decimalsOfPlainSteps)) < 1e-12,
  );
  const other = plain
    ? `; ${plain} would lie ${rounded(apart(plain - 1), decimalsOfPlainSteps)} ${unit} apart`
    : '';
  return `${count} values lie ${rounded(apart(count - 1), 4)} ${unit} apart${other}`;
};

const inSteps = ({ from, to, step }: Said): QuantiserSpec => ({ kind: 'linear', from, to, step });

const sayings: readonly Saying[] = [
  {
    // 20 to 20000 Hz in 201 steps
    pattern: new RegExp(`^${range}\\s*(?:,|\\bin\\b)\\s*(?<count>\\d+)\\s*(?:steps|values|positions)$`, 'i'),
    spec: evenly,
    refuses: ({ from, to, count }) =>
      count < 2
        ? `${count} ${count === 1 ? 'value does' : 'values do'} not go from ${from} to ${to}: "count" must be a whole number from 2.`
        : null,
  },
  {
    // -15 to 15 in steps of 0.5; -15 to 15 by 0.5
    pattern: new RegExp(
      `^${range}\\s*(?:,?\\s*\\bin steps of\\b|\\bby\\b|,?\\s*\\bevery\\b)\\s*(?<step>.+)$`,
      'i',
    ),
    spec: inSteps,
  },
  {
    // 1/6 octave from 20 to 20000
    pattern: new RegExp(
      `^1\\s*/\\s*(?<count>\\d+)[\\s-]*oct(?:ave)?s?(?:,?\\s*(?:from\\s+)?${range})?$`,
      'i',
    ),
    of: 'frequency',
    spec: ({ from, to, count: fraction }) => ({ kind: 'octave-fraction', from, to, fraction }),
  },
  {
    // 12 per octave from 22 to 18000; 60 steps to the decade
    pattern: new RegExp(
      `^(?<many>\\d+(?:\\.\\d+)?)\\s*(?:steps?\\s*|clicks?\\s*)?(?:per|to the|to an|an?)\\s*(?<per>octave|decade)(?:,?\\s*(?:from\\s+)?${range})?$`,
      'i',
    ),
    spec: ({ from, to, many, per }) => ({
      kind: 'ratio-steps',
      from,
      to,
      [per.toLowerCase() === 'octave' ? 'perOctave' : 'perDecade']: many,
    }),
  },
  {
    // R40 from 20 to 20000
    pattern: new RegExp(`^(?<series>R\\d+)(?:,?\\s*(?:from\\s+)?${range})?$`, 'i'),
    of: 'frequency',
    spec: ({ from, to, series }) => ({ kind: 'preferred-numbers', from, to, series }),
  },
  {
    // 3 digits from 20 to 20000
    pattern: new RegExp(`^(?<count>\\d)\\s*(?:significant\\s*)?digits?,?\\s*(?:from\\s+)?${range}$`, 'i'),
    spec: ({ from, to, count: digits }) => ({ kind: 'significant-digits', from, to, digits }),
  },
  {
    // any from 20 to 20000
    pattern: new RegExp(`^(?:any(?:thing|\\s*value)?|continuous)(?:,?\\s*from)?\\s+${range}$`, 'i'),
    spec: ({ from, to }) => ({ kind: 'continuous', from, to }),
  },
  {
    // 0.5 dB from -15 to 15
    pattern: new RegExp(`^(?:every\\s+)?(?<step>\\S.*?)(?:\\s*steps?)?,?\\s*from\\s+${range}$`, 'i'),
    spec: inSteps,
  },
];

/** Where a grid of frequencies goes that is told without its ends. */
const usualEnds = { from: 20, to: 20_000 };

/** Every part of a saying as what it holds. */
const saidIn = (found: Readonly<Record<string, string | undefined>>, knob: Knob): Result<Said, string> => {
  const { many = '0', per = '', series = '' } = found;
  let said: Said = { ...usualEnds, step: 0, count: 0, many: Number(many), per, series: series.toUpperCase() };
  for (const name of ['from', 'to', 'step', 'count'] as const) {
    const text = found[name];
    if (text === undefined) continue;
    const value = name === 'count' ? parseCount(text) : knobParsers[knob](text);
    if (!value.ok) return value;
    said = { ...said, [name]: value.value };
  }
  return ok(said);
};

/** Values one after another: `12 18 24`, `20 Hz, 25 Hz, 31.5 Hz`. */
const valuesIn = (text: string): readonly string[] =>
  (/[,;]/.test(text) ? text.split(/[,;]/) : text.trim().split(/\s+(?=[+\-\u2212.\d])/)).map((part) =>
    part.trim(),
  );

const parsedJson = (text: string): Result<QuantiserSpec, string> => {
  try {
    const spec = JSON.parse(text);
    if (typeof spec?.kind === 'string') return ok(spec);
  } catch {
    // Told below, as what has no kind is.
  }
  return fail(
    `${quoteText(text)} is no grid in JSON; it has a "kind" and what goes with it, as in {"kind":"linear","from":-15,"to":15,"step":0.5}.`,
  );
};

/** What stands before a list of every value there is. */
const everyValue = /^(?:all|only|values|list)\s*:?\s+(?=[+\-\u2212.\d])/i;

const sayAGrid =
  'say a grid as in "20 to 20000 Hz in 201 steps", "0.5 dB from -15 to 15", "12 per octave from 20 to 20000", "3 digits from 20 to 20000", "all 12 18 24"; one number for a value that cannot be turned; or read values off the knob, as in "20.0 20.6 stop"';

const specOf = (text: string, knob: Knob): Result<QuantiserSpec | number, string> => {
  if (text.startsWith('{')) return parsedJson(text);
  for (const { pattern, spec, of, refuses } of sayings) {
    const found = of === undefined || of === knob ? pattern.exec(text)?.groups : undefined;
    if (!found) continue;
    const said = saidIn(found, knob);
    if (!said.ok) return said;
    const refused = refuses?.(said.value) ?? null;
    return refused === null ? ok(spec(said.value, knob)) : fail(refused);
  }
  const single = knobParsers[knob](text);
  if (single.ok) return single;
  const isList = everyValue.test(text) || knob === 'slope';
  const refuse = (told: string) => fail(isList ? told : `${quoteText(text)} is not understood; ${sayAGrid}.`);
  const listed = parseList(text.replace(everyValue, ''));
  if (!listed.ok) return refuse(listed.error);
  const values: number[] = [];
  for (const each of listed.value) {
    const value = knobParsers[knob](each.text);
    if (!value.ok) return refuse(value.error);
    values.push(value.value);
  }
  return ok({ kind: 'table', values });
};

/** A grid as it is said in words or in JSON, or a number where the knob does not move. The error says how to say one. */
export const parseGrid = (text: string, knob: Knob): Result<QuantiserSpec | number, string> => {
  const spec = specOf(text.trim(), knob);
  if (!spec.ok || typeof spec.value === 'number') return spec;
  const made = makeQuantiser(spec.value);
  return made.ok ? spec : fail(made.error);
};

/** Whether a text tells what was read off a knob, and not what its grid is. */
export const isReadings = (text: string): boolean =>
  /\b(stop|clicks?|end|top|bottom)\b|\d!/i.test(text) ||
  (valuesIn(text).length > 1 &&
    valuesIn(text).every((part) => /^[+\-\u2212]?[\d.]/.test(part)) &&
    !/\bto\b|\.\.|\bby\b|\bfrom\b|[{/]/.test(text));
