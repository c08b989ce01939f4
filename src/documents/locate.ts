import { type Problem, parentPath } from '../model/problem.js';
import { printable } from '../units/quote.js';
import type { DecodeFault } from './decode.js';
import type { Parsed, TextFault } from './parsed.js';

/** A position in a text: line and column from 1, the column in UTF-16 units as editors count it. */
export interface TextPosition {
  readonly line: number;
  readonly column: number;
}

/** Finds the positions of offsets in a text whose lines end with LF. */
export const positionsIn = (text: string): ((offset: number) => TextPosition) => {
  const starts = [0];
  for (const { index } of text.matchAll(/\n/g)) starts.push(index + 1);
  return (offset) => {
    let line = 0;
    for (let step = 2 ** Math.ceil(Math.log2(starts.length)); step >= 1; step /= 2) {
      if ((starts[line + step] ?? Infinity) <= offset) line += step;
    }
    return { line: line + 1, column: offset - (starts[line] ?? 0) + 1 };
  };
};

const shownBefore = 15;
const shownAfter = 35;

/** What stands at an offset, on one line and safe to print. */
export const excerptAt = (text: string, offset: number): string => {
  const start = Math.max(text.lastIndexOf('\n', offset - 1) + 1, offset - shownBefore);
  const [after = ''] = text.slice(offset, offset + shownAfter).split('\n');
  return printable(`${text.slice(start, offset).trimStart()}${after}`.trim());
};
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
  const positionOf = positionsIn(text);
  return problems
    .map((each) => ({ each, offset: nearestOffset(each.path, offsetOf) }))
    .sort((a, b) => a.offset - b.offset)
    .map(({ each, offset }) => ({ ...each, source, ...positionOf(offset) }));
};

/** The problem of bytes that are no readable text. */
export const decodeProblem = ({ code, message, before }: DecodeFault, source: string): Problem => ({
  code,
  path: '',
  message,
  source,
  ...positionsIn(before)(before.length),
});

/** A message as a sentence of its own. */
const sentence = (message: string): string =>
  `${message.charAt(0).toUpperCase()}${message.slice(1)}${/[.?]$/.test(message) ? '' : '.'}`;

/** The problem of a text that cannot be read as data, with what stands there. */
export const textProblem = (fault: TextFault, text: string, source: string): Problem => {
  const { code, path = '', message, offset } = fault;
  const excerpt = excerptAt(text, offset);
  const shown = excerpt === '' ? '' : ` It reads there: ${excerpt}`;
  return { code, path, message: `${sentence(message)}${shown}`, source, ...positionsIn(text)(offset) };
};
