import { type FilterType, filterTypes } from '../filters/filter.js';
import { type Problem, pathTo, problem } from '../model/problem.js';
import { typeWords } from '../model/words.js';
import { parseBandwidth, parseFrequency, parseGain, parseQ, parseSlope } from '../units/parse.js';
import { quote } from '../units/quote.js';
import type { Result } from '../units/result.js';
import { didYouMean, listed } from '../units/suggest.js';
import { type Description, describe } from './describe.js';
import type { JsonType } from './schema.js';

export type Syntax = 'json' | 'xml';

/** A schema's complaint, the value complained of, and what the schemas say of its place. */
export interface LocatedFault {
  readonly keyword: string;
  readonly params: Readonly<Record<string, unknown>>;
  readonly path: string;
  /** The last key on the way; `values` for an item of `values`. */
  readonly key: string;
  readonly value: unknown;
  readonly description: Description;
}

/** Our own words for one complaint of a schema. */
export type Words = (fault: LocatedFault, syntax: Syntax) => Problem;

const nouns: Readonly<Record<JsonType, string>> = {
  string: 'text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
  null: 'null',
  object: 'an object',
  array: 'a list',
};

/** `"19k" is text`, `An object stands`: what stands there, as the beginning of a sentence. */
const whatStands = (value: unknown): string => {
  if (value === null) return 'Null stands';
  if (Array.isArray(value)) return 'A list stands';
  if (typeof value === 'object') return 'An object stands';
  return `${quote(value)} is ${nouns[typeof value as JsonType]}`;
};

type Parse = (text: string) => Result<number, string>;

/** The parser for a value, by the unit its key ends with; knobs are keys of targets. */
const parsers: readonly { readonly key: RegExp; readonly parse: Parse }[] = [
  { key: /Hz$|^frequency$/, parse: parseFrequency },
  { key: /PerOctave$|^slope$/, parse: parseSlope },
  { key: /Db$|^gain$/, parse: parseGain },
  { key: /Octaves$|^bandwidth$/, parse: parseBandwidth },
  { key: /^q$/, parse: parseQ },
  { key: /./, parse: parseFrequency },
];

/** The number a text most likely means under a key: 19000 for `19k` under `frequencyHz`. */
const numberMeant = (key: string, text: string): number | null => {
  const parsed = parsers.find((each) => each.key.test(key))?.parse(text);
  return parsed?.ok ? parsed.value : null;
};

/** What to write instead, where a number belongs and text stands that means one. */
const numberHint = ({ key, value, description }: LocatedFault, syntax: Syntax): string => {
  const wanted = description.types.has('number') || description.types.has('integer');
  const meant = wanted && typeof value === 'string' ? numberMeant(key, value) : null;
  if (meant === null) return '';
  return `; write ${meant}${syntax === 'json' ? ' without quotes' : ''}`;
};

const wrongType: Words = (fault, syntax) => {
  const { path, value, description } = fault;
  const wanted = [...description.types].map((type) => nouns[type]).join(' or ');
  const takesText = description.types.has('string') && !description.schema.enum;
  const asText = typeof value === 'number' && takesText ? `; write "${value}"` : '';
  const hint = numberHint(fault, syntax) || asText;
  return problem('wrong-type', path, `${whatStands(value)} where ${wanted} belongs${hint}.`);
};

/** What people call the filter types besides the words used here. From memory. */
const otherTypeWords: Readonly<Partial<Record<FilterType, readonly string[]>>> = {
  lowpass: ['hi cut', 'low pass filter', 'lpf', 'hi-cut filter', 'high cut filter'],
  highpass: ['lo cut', 'high pass filter', 'hpf', 'lo-cut filter', 'low cut filter'],
  bandpass: ['bpf'],
  allpass: ['apf'],
  notch: ['notch filter', 'band stop', 'band reject'],
  peaking: ['peak', 'peq', 'parametric', 'bell filter'],
  lowshelf: ['lo shelf', 'low shelving', 'bass shelf'],
  highshelf: ['hi shelf', 'high shelving', 'treble shelf'],
};

const lettersOf = (text: string): string => text.toLowerCase().replace(/[^a-z]/g, '');

/** The filter type that words for people mean: `highpass` for `low cut`. */
const typeMeant = (text: string): FilterType | undefined =>
  filterTypes.find((type) =>
    [type, typeWords[type], ...(otherTypeWords[type] ?? [])].some(
      (words) => lettersOf(words) === lettersOf(text),
    ),
  );

/** `; did you mean "highpass"?` for a word of people as for one mistyped, or nothing where none is near. */
const wordHint = (word: string, candidates: readonly string[]): string => {
  const type = typeMeant(word);
  return type !== undefined && candidates.includes(type)
    ? `; did you mean ${quote(type)}?`
    : didYouMean(word, candidates);
};

const notAllowed: Words = (fault, syntax) => {
  const { params, path, value, description } = fault;
  const allowed = Array.isArray(params.allowedValues) ? params.allowedValues : [params.allowedValue];
  const names = allowed.filter((each) => typeof each === 'string');
  const hint = (typeof value === 'string' && wordHint(value, names)) || `${numberHint(fault, syntax)}.`;
  const orObject = description.types.has('object') ? ', or an object' : '';
  return problem(
    'not-allowed',
    path,
    `${quote(value)} is not allowed here${hint} Allowed: ${listed(allowed)}${orObject}.`,
  );
};

const outOfRange: Words = ({ path, value, description: { schema } }) => {
  const limits = [
    ...(schema.exclusiveMinimum === undefined ? [] : [`above ${schema.exclusiveMinimum}`]),
    ...(schema.minimum === undefined ? [] : [`from ${schema.minimum}`]),
    ...(schema.maximum === undefined ? [] : [`up to ${schema.maximum}`]),
  ];
  return problem('out-of-range', path, `${quote(value)} is out of range; allowed is ${limits.join(' ')}.`);
};

const badText: Words = (fault, syntax) => {
  const { schema } = fault.description;
  const belongs = schema.description ?? `Text that fits ${schema.pattern}.`;
  const stands = `${quote(fault.value)} does not fit here${numberHint(fault, syntax)}`;
  return problem('bad-text', fault.path, `${stands}. What belongs here: ${belongs}`);
};

const wrongLength: Words = ({ path, value, description: { schema } }) =>
  value === ''
    ? problem('bad-text', path, 'This is empty; write something, or take the key out.')
    : problem('bad-text', path, `${quote(value)} is too long; at most ${schema.maxLength} characters fit.`);

const wrongCount: Words = ({ path, value, description: { schema } }) => {
  const count = Object.keys(value as object).length;
  const least = schema.minItems ?? schema.minProperties ?? 0;
  const most = schema.maxItems ?? schema.maxProperties;
  const allowed = most === undefined ? `at least ${least}` : `${least} to ${most}`;
  return problem('wrong-count', path, `There are ${count} entries here; allowed are ${allowed}.`);
};

const repeatedItem: Words = ({ path, value }) => {
  const items = value as readonly unknown[];
  const item = items.find((each, index) => items.indexOf(each) < index);
  return problem('repeated-item', path, `${quote(item)} stands more than once in this list; take one out.`);
};

/** `"udp", "tcp-slip"`, or `an object with "grid" ("untested", "tested", "known-bad")`: the values a place takes. */
const allowedAt = ({ schema, types, properties }: Description, depth = 0): string => {
  const values = schema.enum ?? (schema.const === undefined ? [] : [schema.const]);
  if (!types.has('object') || depth > 0) return listed(values);
  const withValues = [...properties]
    .filter(([key]) => schema.required?.includes(key))
    .map(([key, at]) => [key, allowedAt(describe(at), depth + 1)] as const)
    .filter(([, allowed]) => allowed !== '');
  const told = withValues.map(([key, allowed]) => `${quote(key)} (${allowed})`).join(', ');
  const object = told === '' ? [] : [`an object with ${told}`];
  return [...(values.length > 0 ? [listed(values)] : []), ...object].join(', or ');
};

const missingKey: Words = ({ path, params, description }) => {
  const key = String(params.missingProperty);
  const at = description.properties.get(key);
  const allowed = at ? allowedAt(describe(at)) : '';
  const message = `${quote(key)} is missing here; it must be given.${allowed && ` Allowed: ${allowed}.`}`;
  return problem('missing-key', pathTo(path, key), message);
};

/** What keys of earlier versions under the same `format` are called now. */
const laterKeys: ReadonlyMap<string, string> = new Map([
  ['bands', 'filters'],
  ['keepLossLimitDb', 'keepLossAtMostDb'],
]);

/** What to do about a key of an earlier version, as the end of a sentence; nothing where it was none of this place. */
const earlierHint = (key: string, allowed: readonly string[]): string => {
  const later = laterKeys.get(key);
  if (later === undefined || !allowed.includes(later)) return '';
  const mend = `Make a recipe again; in a file of your own, write ${quote(later)}`;
  return `; an earlier version called ${quote(later)} that. ${mend}.`;
};

/** A key nothing here is called. The XML reader has it too: it meets unknown elements before any schema. */
export const unknownKeyProblem = (path: string, key: string, allowed: readonly string[]): Problem => {
  const hint = earlierHint(key, allowed) || wordHint(key, allowed) || '.';
  const others = allowed.length > 0 ? `Allowed: ${listed(allowed)}.` : 'Take it out.';
  const message = `${quote(key)} is not a key that is known here${hint} ${others}`;
  return problem('unknown-key', pathTo(path, key), message);
};

const unknownKey: Words = ({ path, params, description }) =>
  unknownKeyProblem(path, String(params.additionalProperty), [...description.properties.keys()]);

const badName: Words = ({ path, params, description: { keys } }) => {
  const name = String(params.propertyName);
  const belongs = keys ? ` What belongs here: ${describe(keys).schema.description}` : '';
  return problem('bad-name', pathTo(path, name), `The name ${quote(name)} does not fit.${belongs}`);
};

/** The words for each keyword, those that explain more first: a value gets one complaint, the first. */
export const faultWords: ReadonlyMap<string, Words> = new Map([
  ['type', wrongType],
  ['const', notAllowed],
  ['enum', notAllowed],
  ['minimum', outOfRange],
  ['maximum', outOfRange],
  ['exclusiveMinimum', outOfRange],
  ['minLength', wrongLength],
  ['maxLength', wrongLength],
  ['pattern', badText],
  ['minItems', wrongCount],
  ['maxItems', wrongCount],
  ['minProperties', wrongCount],
  ['maxProperties', wrongCount],
  ['uniqueItems', repeatedItem],
  ['required', missingKey],
  ['additionalProperties', unknownKey],
  ['propertyNames', badName],
]);
