import { itemAt } from '../units/at.js';
import { formatExact } from '../units/format.js';
import { limits } from '../units/generated/limits.js';
import { type ListedValue, parseList } from '../units/parse-list.js';
import { quoteText } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';
import { makeGrid } from './grid.js';
import { finite, list, type ParameterRule, readParameters, readValue } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

const { most } = limits.tableValues;
const listRule = list('rising numbers', most);

const listOrText: ParameterRule<readonly unknown[] | string> = {
  allowed: `${listRule.allowed}, or one text with them, as in "20, 25, 31.5, 1k"`,
  accepts: (value): value is readonly unknown[] | string =>
    typeof value === 'string' || listRule.accepts(value),
};

/** A value at its place, and how it was written where it stands in a text. */
type Entry = Pick<ListedValue, 'value'> & Partial<ListedValue>;

const readEntries = (values: readonly unknown[] | string): Result<readonly Entry[], string> => {
  if (typeof values === 'string') {
    const read = parseList(values);
    if (!read.ok) return fail(`"values" cannot be read: ${read.error}`);
    const count = read.value.length;
    return count <= most ? read : fail(`"values" holds ${count} values; at most ${most} are allowed.`);
  }
  const entries: Entry[] = [];
  for (const [index, entry] of values.entries()) {
    const number = readValue(`values[${index}]`, entry, finite);
    if (!number.ok) return number;
    entries.push({ value: number.value });
  }
  return ok(entries);
};

/** The values themselves, where no rule describes them: a list, or a text as it is pasted from a manual. */
export const table: QuantiserKind = {
  kind: 'table',
  summary: 'the values themselves, strictly rising, as a list or in one text: values',
  create: (spec) => {
    const read = readParameters(spec, { values: listOrText });
    if (!read.ok) return read;
    const entries = readEntries(read.value.values);
    if (!entries.ok) return entries;
    const values: number[] = [];
    for (const [index, { value: read, text }] of entries.value.entries()) {
      const value = read + 0; // -0 becomes 0
      const before = values.at(-1);
      if (before !== undefined && value <= before) {
        const isPlain = text === undefined || text === formatExact(value);
        const written = isPlain ? '' : ` (${quoteText(text)} in the text)`;
        return fail(
          `"values[${index}]" must be above the value before it, ${formatExact(before)}, but is ${formatExact(value)}${written}.`,
        );
      }
      values.push(value);
    }
    return ok(makeGrid(values.length, (index) => itemAt(values, index)));
  },
};
