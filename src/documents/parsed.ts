import type { Problem } from '../model/problem.js';
import type { Result } from '../units/result.js';

/** Why a text cannot be read at all, and where. */
export interface TextFault {
  readonly code: string;
  readonly message: string;
  readonly offset: number;
  readonly path?: string;
}

/** A text read as data, in the JSON shape, whatever its syntax. */
export interface Parsed {
  readonly value: unknown;
  /** What is wrong with the text of single values; what could be read of them is in `value`. */
  readonly problems: readonly Problem[];
  /** Where the thing at a path stands in the text. */
  readonly offsetOf: (path: string) => number | undefined;
}

export type ParseOutcome = Result<Parsed, TextFault>;

/** Keys that mean something to JavaScript objects: they are refused before they reach one. */
export const forbiddenKeys: readonly string[] = ['__proto__', 'constructor', 'prototype'];

/** How deep objects, lists and elements may lie within each other. */
export const deepestNesting = 64;

/** How many values a file may hold: three of the longest tables a quantiser takes. */
export const mostValues = 300_000;

export const tooManyValues = `there are more than ${mostValues} values in this file; no file needs that`;

/** How many problems of one file are told. */
export const mostProblems = 100;

/** Adds a problem, up to one more than are told; a file can be wrong a hundred thousand times. */
export const addProblem = (problems: Problem[], each: Problem): void => {
  if (problems.length <= mostProblems) problems.push(each);
};

/** Several complaints may come of one mistake; more than these are not looked at. */
export const mostFaults = 10 * mostProblems;
