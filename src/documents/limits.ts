import type { Problem } from '../model/problem.js';

/** How deep objects, lists and elements may lie within each other. */
export const deepestNesting = 64;

/** How many values a file may hold: three of the longest tables a quantiser takes. */
export const mostValues = 300_000;

export const tooManyValues = `there are more than ${mostValues} values in this file; no file needs that`;

/** How many problems of one file are told. */
export const mostProblems = 100;

/** Notes a problem, up to one more than are told; a file can be wrong a hundred thousand times. */
export const note = (problems: Problem[], each: Problem): void => {
  if (problems.length <= mostProblems) problems.push(each);
};
