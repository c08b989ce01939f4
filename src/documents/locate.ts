import { type Problem, parentPath } from '../model/problem.js';
import type { DecodeFault } from './decode.js';
import type { Parsed, TextFault } from './parsed.js';
import { excerptAt, placesIn } from './place.js';

/** The offset of the thing at a path or, where it is not there, of the nearest thing that would hold it. */
const nearestOffset = (path: string, offsetOf: Parsed['offsetOf']): number => {
  const offset = offsetOf(path);
  if (offset !== undefined) return offset;
  const parent = parentPath(path);
  return parent === path ? 0 : nearestOffset(parent, offsetOf);
};

/** Adds to each problem of a parsed text where it stands, and puts them in the order of the text. */
export const locate = (
  problems: readonly Problem[],
  text: string,
  source: string,
  offsetOf: Parsed['offsetOf'],
): readonly Problem[] => {
  const places = placesIn(text);
  return problems
    .map((each) => ({ each, offset: nearestOffset(each.path, offsetOf) }))
    .sort((a, b) => a.offset - b.offset)
    .map(({ each, offset }) => ({ ...each, source, ...places(offset) }));
};

/** The problem of bytes that are no readable text. */
export const decodeProblem = ({ code, message, before }: DecodeFault, source: string): Problem => ({
  code,
  path: '',
  message,
  source,
  ...placesIn(before)(before.length),
});

/** A message as a sentence of its own. */
const sentence = (message: string): string =>
  `${message.charAt(0).toUpperCase()}${message.slice(1)}${/[.?]$/.test(message) ? '' : '.'}`;

/** The problem of a text that cannot be read as data, with what stands there. */
export const textProblem = (fault: TextFault, text: string, source: string): Problem => {
  const { code, path = '', message, offset } = fault;
  const excerpt = excerptAt(text, offset);
  const shown = excerpt === '' ? '' : ` It reads there: ${excerpt}`;
  return { code, path, message: `${sentence(message)}${shown}`, source, ...placesIn(text)(offset) };
};
