import { formatExact } from '../units/format.js';
import { fail, ok } from '../units/result.js';
import { makeGrid } from './grid.js';
import { positiveEnd, rangeFault, readParameters, wholeNumber } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

/** Closer than this, rounding could put two values in the wrong order or in one place. */
const leastRelativeStep = 1e-11;

/** Equal ratios from end to end: value k is from · (to / from)^(k / (count − 1)). Both ends are exact. */
export const geometric: QuantiserKind = {
  kind: 'geometric',
  summary: 'equal ratios: from, to, count',
  create: (spec) => {
    const read = readParameters(spec, {
      from: positiveEnd,
      to: positiveEnd,
      count: wholeNumber(2, 1_000_000),
    });
    if (!read.ok) return read;
    const { from, to, count } = read.value;
    const fault = rangeFault(from, to);
    if (fault !== null) return fail(fault);
    const last = count - 1;
    if ((to - from) / from / last < leastRelativeStep) {
      return fail(
        `"count" is ${count}, too many steps to tell apart from ${formatExact(from)} to ${formatExact(to)}; make it smaller.`,
      );
    }
    // Not `ratio ** …`: its last bit is not the same in all versions of V8.
    const span = Math.log(to / from);
    return ok(makeGrid(count, (index) => (index === last ? to : from * Math.exp((index / last) * span))));
  },
};
