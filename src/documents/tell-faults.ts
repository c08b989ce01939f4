import { type Problem, pathTo, problem } from '../model/problem.js';
import { closest } from '../units/suggest.js';
import { anything, describe, keyValueIn, propertyAt } from './describe.js';
import { faultWords, type LocatedFault, type Syntax } from './fault-words.js';
import { mostFaults } from './parsed.js';
import type { Schema, SchemaFault } from './schema.js';

/** Follows a complaint's pointer (RFC 6901) through the document and its schema. */
const locateFault = (fault: SchemaFault, document: unknown, root: Schema): LocatedFault => {
  let value = document;
  let description = describe({ schema: root, root }, keyValueIn(value));
  let path = '';
  let key = '';
  for (const escaped of fault.instancePath.split('/').slice(1)) {
    const segment = escaped.replaceAll('~1', '/').replaceAll('~0', '~');
    const inList = Array.isArray(value);
    path = pathTo(path, inList ? Number(segment) : segment);
    if (!inList) key = segment;
    const at = inList ? description.items : propertyAt(description, segment);
    value = (value as Record<string, unknown>)[segment];
    description = describe(at ?? anything, keyValueIn(value));
  }
  return { keyword: fault.keyword, params: fault.params, path, key, value, description };
};

/** Complaints about an object's keys, of which it may have several; of all others a value has one. */
const aboutKeys: readonly string[] = ['required', 'additionalProperties', 'propertyNames'];

const aboutText: readonly string[] = ['pattern', 'minLength', 'maxLength'];

/**
 * Whether a complaint is a mistake of its own. Not so: that a combination of schemas does not fit, which
 * follows from the mistake inside; what an alternative of another type has to say, such as "or null" where no null
 * stands; text rules for a name, which `propertyNames` tells.
 */
const isMistake = ({ keyword, params, value, description: { types } }: LocatedFault): boolean => {
  if (!faultWords.has(keyword)) return false;
  if (aboutText.includes(keyword)) return typeof value === 'string';
  if (keyword === 'enum' && types.has('object')) return typeof value !== 'object';
  if (keyword === 'type' && types.has('object') && types.has('string')) return typeof value !== 'string';
  return keyword !== 'type' || params.type !== 'null';
};

const rank = ({ keyword }: LocatedFault): number => [...faultWords.keys()].indexOf(keyword);

/** A missing key that stands there mistyped is told as the unknown key it was taken for. */
const isMistyped = (missing: LocatedFault, faults: readonly LocatedFault[]): boolean =>
  missing.keyword === 'required' &&
  faults.some(
    ({ keyword, path, params, description }) =>
      keyword === 'additionalProperties' &&
      path === missing.path &&
      closest(String(params.additionalProperty), [...description.properties.keys()]) ===
        missing.params.missingProperty,
  );

/** That items of a list are the same is not told where one of them is wrong by itself. */
const isOfWrongItems = (repeated: LocatedFault, faults: readonly LocatedFault[]): boolean =>
  repeated.keyword === 'uniqueItems' && faults.some(({ path }) => path.startsWith(`${repeated.path}[`));

/** One problem a mistake, in our own words, in the order the schema found them. */
export const tellFaults = (
  faults: readonly SchemaFault[],
  document: unknown,
  root: Schema,
  syntax: Syntax,
): readonly Problem[] => {
  const mistakes = faults
    .slice(0, mostFaults)
    .map((fault) => locateFault(fault, document, root))
    .filter(isMistake);
  const byPlace = new Map<string, LocatedFault>();
  for (const fault of mistakes) {
    const { keyword, path, params } = fault;
    const ownKey = aboutKeys.includes(keyword) ? (params.missingProperty ?? Object.values(params)[0]) : '';
    const place = `${path}\n${String(ownKey)}`;
    const first = byPlace.get(place);
    if (!first || rank(fault) < rank(first)) byPlace.set(place, fault);
  }
  const told = [...byPlace.values()]
    .filter((fault) => !isMistyped(fault, mistakes) && !isOfWrongItems(fault, mistakes))
    .map((fault) => faultWords.get(fault.keyword)?.(fault, syntax))
    .filter((each) => each !== undefined);
  // A schema may come to combine its parts in ways not known here; it must never refuse without a word.
  return told.length > 0 ? told : [problem('schema', '', 'The file does not fit its schema.')];
};
