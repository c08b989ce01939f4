import { printable } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';

/**
 * An expected failure, or a change of what was asked, told to the person who can mend it.
 *
 * `code` is stable and for programs; `path` names the place as in `mixes[2].feeds` (empty for the whole
 * document); `message` says what stood there, what is allowed, what was done and what to change.
 */
export interface Problem {
  readonly code: string;
  readonly path: string;
  readonly message: string;
  /** The file it was found in and the place in its text, where they are known. */
  readonly source?: string;
  readonly line?: number;
  readonly column?: number;
}

/** An outcome whose failure is one or more problems. */
export type Outcome<Value> = Result<Value, readonly Problem[]>;

/** A problem without a file: whoever reads the file adds it. */
export const problem = (code: string, path: string, message: string): Problem => ({ code, path, message });

/** Every value, or every problem, each told once however many have it. */
export const allOf = <Value>(outcomes: readonly Outcome<Value>[]): Outcome<Value[]> => {
  const problems = outcomes.flatMap((outcome) => (outcome.ok ? [] : outcome.error));
  if (problems.length === 0) return ok(outcomes.flatMap((outcome) => (outcome.ok ? [outcome.value] : [])));
  return fail([...new Map(problems.map((found) => [`${found.path}\n${found.message}`, found])).values()]);
};

const plainName = /^[A-Za-z_$][\w$]*$/;
const longestKey = 60;

/** The path of something inside another: `mixes` and 2 give `mixes[2]`, then `feeds` gives `mixes[2].feeds`. */
export const pathTo = (parent: string, key: string | number): string => {
  if (typeof key === 'number') return `${parent}[${key}]`;
  if (plainName.test(key)) return parent === '' ? key : `${parent}.${key}`;
  const shown = key.length > longestKey ? `${key.slice(0, longestKey)}…` : key;
  return `${parent}[${printable(JSON.stringify(shown))}]`;
};

/** The path of something whose own path starts further down. */
export const joinPaths = (parent: string, child: string): string =>
  parent === '' || child === '' || child.startsWith('[') ? `${parent}${child}` : `${parent}.${child}`;

/** The path of what holds the thing at a path; empty at the top. */
export const parentPath = (path: string): string =>
  path.replace(/(?:\.?[A-Za-z_$][\w$]*|\[\d+\]|\["(?:[^"\\]|\\.)*"\])$/, '');
