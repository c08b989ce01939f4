import { ok } from '../../units/result.js';
import { deepestNesting, forbiddenKeys, mostValues, type ParseOutcome } from '../parsed.js';
import { parseJsonTree } from './parse-tree.js';

/** What the platform's own parser would take, and lose or read otherwise than it stands. */
class Doubtful extends Error {}

/** Of a text that is JSON: a string, with the colon after it where it is a key; a number; a comma. */
const tokens = /"[^"\\]*(?:\\.[^"\\]*)*"(\s*:)?|-?\d[\d.eE+-]*|,/g;

/** A number that any double keeps (IEEE 754 binary64: 15 significant digits), and that is not negative zero. */
const plainNumber = /^(?:0|-?(?=.{0,14}$)(?:[1-9]\d*(?:\.\d+)?|0\.\d*[1-9]\d*))$/;

/** How many keys the text has. Throws for numbers that have to be looked at, and for more values than a file may have. */
const keysIn = (text: string): number => {
  let keys = 0;
  let values = 0;
  for (const [token, colon] of text.matchAll(tokens)) {
    if (colon !== undefined) keys++;
    else if (token === ',') values++;
    else if (!token.startsWith('"') && !plainNumber.test(token)) throw new Doubtful();
    if (values > mostValues) throw new Doubtful();
  }
  return keys;
};

/** How many keys a value has. Throws for keys that are never allowed, and where it is too deep. */
const keysOf = (value: unknown, deepest: number): number => {
  if (typeof value !== 'object' || value === null) return 0;
  if (deepest === 0) throw new Doubtful();
  if (Array.isArray(value)) return value.reduce((sum, each) => sum + keysOf(each, deepest - 1), 0);
  const keys = Object.keys(value);
  if (keys.some((key) => forbiddenKeys.includes(key))) throw new Doubtful();
  return Object.values(value).reduce((sum, each) => sum + keysOf(each, deepest - 1), keys.length);
};

/** The value of a text that nothing can be said against; undefined for any other, whatever it is. */
const parsePlain = (text: string, deepest: number): unknown => {
  try {
    const value: unknown = JSON.parse(text);
    // Of two keys that are the same one is lost.
    return keysOf(value, deepest) === keysIn(text) ? value : undefined;
  } catch {
    return undefined;
  }
};

/**
 * Reads JSON text (RFC 8259) strictly: no comments, no trailing commas, no key twice, no number that a
 * double does not hold, nothing nested deeper than `deepest`. A tree with a place for everything is only made of a text
 * that something is wrong with.
 */
export const parseJson = (text: string, deepest: number = deepestNesting): ParseOutcome => {
  const value = parsePlain(text, deepest);
  if (value === undefined) return parseJsonTree(text, deepest);
  let tree: ParseOutcome | undefined;
  return ok({
    value,
    problems: [],
    offsetOf: (path) => {
      tree ??= parseJsonTree(text, deepest);
      return tree.ok ? tree.value.offsetOf(path) : undefined;
    },
  });
};
