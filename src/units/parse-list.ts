/**
 * Reads a list of values as a manual prints it or as somebody types it: `20, 25, 31.5, 1k, 1.25 kHz`. Values are parted
 * by spaces, commas, semicolons or new lines, and each has a unit or none.
 */

import { parseBandwidth, parseFrequency, parseGain, parseQ, parseSlope } from './parse.js';
import { quoteText } from './quote.js';
import { fail, ok, type Result } from './result.js';
import { gap, parseTyped, readNumber } from './typed.js';

/** One value of a list, in the unit of its knob, and how it was written. */
export interface ListedValue {
  readonly text: string;
  readonly value: number;
  /** What its unit makes it; left out where it has none. */
  readonly things?: ListedThings;
}

/** What the values of a list may be by their unit, as words. */
export type ListedThings = 'frequencies' | 'Qs' | 'widths in octaves' | 'gains' | 'slopes';

/** How values with a unit are read, the longer units first, and what they are called. */
const units: readonly {
  readonly things: ListedThings;
  readonly is: RegExp;
  parse(text: string): Result<number, string>;
}[] = [
  { things: 'slopes', is: /db\/oct(ave)?$/i, parse: parseSlope },
  { things: 'gains', is: /db$/i, parse: parseGain },
  { things: 'widths in octaves', is: /oct(aves?)?$|\d\/\d/i, parse: parseBandwidth },
  { things: 'frequencies', is: /hz$|k\d*$/i, parse: parseFrequency },
  { things: 'Qs', is: /^q/i, parse: parseQ },
];

const parsePlain = (text: string): Result<number, string> =>
  parseTyped(text, {
    allowed: 'a value is a number with its unit or without, as in "31.5", "1.25 kHz", "19k32" or "-15 dB"',
    read: (typed) => readNumber(typed, { '': 0 }),
  });

const beforeUnit = new RegExp(
  `(?<=[\\d.])${gap}(?=(?:k?hz|k|db(?:/oct(?:ave)?)?|oct(?:aves?)?)(?![\\w/]))`,
  'gi',
);
const behindQ = new RegExp(`(?<=(?:^|[\\s,;])q)${gap}(?=[\\d.])`, 'gi');

/** Why a comma between two digits may be meant otherwise, or null: beside other separators it is likely a decimal mark. */
const commaFault = (line: string): string | null => {
  const words = line.trim().split(/[\s;]+/);
  const doubtful = words.length > 1 ? words.find((word) => /\d,\d/.test(word)) : undefined;
  return doubtful === undefined
    ? null
    : `${quoteText(doubtful.replace(/,$/, ''))} is not read as it stands: a comma may part two values or be a decimal mark; the decimal mark is a point, and values are parted by a comma and a space.`;
};

const leftOut = /^(\.{2,}|…)$/;

/**
 * The values of a list, in the order they are written. The error is one sentence about the first that is not plainly one
 * value, or that is of another unit than those before it.
 */
export const parseList = (text: string): Result<readonly ListedValue[], string> => {
  const doubt = text
    .split(/[\r\n]+/)
    .map(commaFault)
    .find((fault) => fault !== null);
  if (doubt) return fail(doubt);
  const items = text
    .replace(beforeUnit, '')
    .replace(behindQ, '')
    .split(/[\s,;]+/)
    .filter((item) => item !== '');
  if (items.length === 0)
    return fail('there is no value in it; write them one by one, as in "20, 25, 31.5, 1k".');
  const values: ListedValue[] = [];
  let things: ListedThings | undefined;
  for (const item of items) {
    if (leftOut.test(item)) {
      return fail(
        `${quoteText(item)} stands for values that are left out; write out every one, or take the kind of grid that has their rule.`,
      );
    }
    const unit = units.find(({ is }) => is.test(item));
    const value = unit ? unit.parse(item) : parsePlain(item);
    if (!value.ok) return value;
    if (unit && things !== undefined && things !== unit.things) {
      return fail(
        `${quoteText(item)} is one of ${unit.things}, and ${things} stand before it; a list has values of one knob.`,
      );
    }
    things ??= unit?.things;
    values.push({ text: item, value: value.value, ...(unit ? { things: unit.things } : {}) });
  }
  return ok(values);
};
