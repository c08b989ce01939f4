import type { Problem } from '../model/problem.js';
import { type DocumentName, documentKinds } from './documents.js';
import type { Syntax } from './fault-words.js';
import type { Parsed } from './parsed.js';
import { tellFaults } from './tell-faults.js';

/** Whether a problem is at a place another is about, or inside it. */
const isWithin = (inner: string, outer: string): boolean =>
  inner === outer || (inner.startsWith(outer) && /^[.[]/.test(inner.slice(outer.length)));

/** Whether a problem only follows from another: at its place, inside it, or a count that lacks it. */
const follows = (each: Problem, from: Problem): boolean =>
  isWithin(each.path, from.path) || (each.code === 'wrong-count' && isWithin(from.path, each.path));

/**
 * Everything wrong with a parsed document: what its text shows, what its schema says, and, where both find
 * nothing, what the rules say. What only follows from what the text shows is not told again.
 */
export const checkDocument = (
  { value, problems }: Parsed,
  name: DocumentName,
  syntax: Syntax,
): readonly Problem[] => {
  const { validate, schemaFile, breaches } = documentKinds[name];
  if (validate(value)) return problems.length > 0 ? problems : breaches(value);
  const faults = validate.errors ?? [];
  const told = tellFaults(faults, value, schemaFile, syntax);
  return [...problems, ...told.filter((each) => !problems.some((known) => follows(each, known)))];
};
