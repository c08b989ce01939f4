import { type Problem, problem } from '../model/problem.js';
import { closest } from '../units/suggest.js';
import { faultWords, type Syntax } from './fault-words.js';
import { mostProblems } from './limits.js';
import { type LocatedFault, locateFault } from './located-fault.js';
import type { SchemaFault } from './validator.js';

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

/** Several complaints may come of one mistake; more than these are not looked at. */
const mostFaults = 10 * mostProblems;

/** One problem a mistake, in our own words, in the order the schema found them. */
export const tellFaults = (
  faults: readonly SchemaFault[],
  document: unknown,
  schemaFile: string,
  syntax: Syntax,
): readonly Problem[] => {
  const mistakes = faults
    .slice(0, mostFaults)
    .map((fault) => locateFault(fault, document, schemaFile))
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
    .filter((fault) => !isMistyped(fault, mistakes))
    .map((fault) => faultWords.get(fault.keyword)?.(fault, syntax))
    .filter((each) => each !== undefined);
  // A schema may come to combine its parts in ways not known here; it must never refuse without a word.
  return told.length > 0 ? told : [problem('schema', '', 'The file does not fit its schema.')];
};
