import type { Problem } from '../model/problem.js';
import type { DecodeFault } from './decode.js';
import type { Parsed, TextFault } from './parsed.js';
import { parentPath } from './path.js';
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

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The problem of a text that cannot be read as data, with what stands there. */
export const textProblem = (fault: TextFault, text: string, source: string): Problem => {
  const { code, path = '', message, offset } = fault;
  const near = `Near ${excerptAt(text, offset)}: ${message}.`;
  return {
    code,
    path,
    message: offset < text.length ? near : `${capital(message)}.`,
    source,
    ...placesIn(text)(offset),
  };
};
