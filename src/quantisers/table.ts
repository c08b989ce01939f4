import { itemAt } from '../units/at.js';
import { formatExact } from '../units/format.js';
import { fail, ok } from '../units/result.js';
import { makeGrid } from './grid.js';
import { finite, list, readParameters, readValue } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

/** The values themselves, where no rule describes them. */
export const table: QuantiserKind = {
  kind: 'table',
  summary: 'the values themselves, strictly rising: values',
  create: (spec) => {
    const read = readParameters(spec, { values: list('rising numbers', 100_000) });
    if (!read.ok) return read;
    const values: number[] = [];
    for (const [index, entry] of read.value.values.entries()) {
      const place = `values[${index}]`;
      const number = readValue(place, entry, finite);
      if (!number.ok) return number;
      const value = number.value + 0; // -0 becomes 0
      const before = values.at(-1);
      if (before !== undefined && value <= before) {
        return fail(
          `"${place}" must be above the value before it, ${formatExact(before)}, but is ${formatExact(value)}.`,
        );
      }
      values.push(value);
    }
    return ok(makeGrid(values.length, (index) => itemAt(values, index)));
  },
};
