import { type Problem, pathTo, problem } from '../model/problem.js';
import { quote } from '../units/quote.js';
import { didYouMean, listed } from '../units/suggest.js';
import { describe } from './describe.js';
import type { LocatedFault } from './located-fault.js';
import { numberMeant } from './number-meant.js';
import type { JsonType } from './schema.js';
import { typeMeant } from './type-meant.js';

export type Syntax = 'json' | 'xml';

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

const notAllowed: Words = (fault, syntax) => {
  const { params, path, value, description } = fault;
  const allowed = Array.isArray(params.allowedValues) ? params.allowedValues : [params.allowedValue];
  const names = allowed.filter((each) => typeof each === 'string');
  const type = typeof value === 'string' ? typeMeant(value) : undefined;
  const meant =
    type !== undefined && names.includes(type)
      ? `; did you mean ${quote(type)}?`
      : typeof value === 'string' && didYouMean(value, names);
  const hint = meant || `${numberHint(fault, syntax)}.`;
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

const missingKey: Words = ({ path, params }) => {
  const key = String(params.missingProperty);
  return problem('missing-key', pathTo(path, key), `${quote(key)} is missing here; it must be given.`);
};

/** A key nothing here is called. The XML reader has it too: it meets unknown elements before any schema. */
export const unknownKeyProblem = (path: string, key: string, allowed: readonly string[]): Problem => {
  const hint = didYouMean(key, allowed) || '.';
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
