import { type Problem, problem } from '../model/problem.js';
import { quote } from '../units/quote.js';

export type Fields = Readonly<Record<string, unknown>>;

/** Takes what is wrong with a state: where, and what stood there and is allowed. */
export type Tell = (path: string, told: string) => void;

export const stateProblem = (path: string, told: string): Problem =>
  problem('standin-state-wrong', path, told);

/** An object's fields; null, and told, where it is none or has a field that nobody knows. */
export const readFields = (
  value: unknown,
  known: readonly string[],
  path: string,
  tell: Tell,
): Fields | null => {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    tell(path, `${quote(value)} stands there; an object is allowed.`);
    return null;
  }
  const stray = Object.keys(value).find((name) => !known.includes(name));
  if (stray === undefined) return value as Fields;
  tell(path, `${quote(stray)} means nothing here; ${known.join(', ')} may stand. Take it out.`);
  return null;
};

/** A list's items; none, and told, where it is none. */
export const readList = (value: unknown, path: string, tell: Tell): readonly unknown[] => {
  if (Array.isArray(value)) return value;
  tell(path, `${quote(value)} stands there; a list is allowed.`);
  return [];
};
