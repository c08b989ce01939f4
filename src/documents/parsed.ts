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
