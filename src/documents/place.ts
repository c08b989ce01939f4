import { printable } from '../units/quote.js';

/** A place in a text: line and column from 1, the column in UTF-16 units as editors count it. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/** Finds the places of offsets in a text whose lines end with LF. */
export const placesIn = (text: string): ((offset: number) => Place) => {
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
