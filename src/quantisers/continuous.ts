import { itemAt } from '../units/at.js';
import { formatExact } from '../units/format.js';
import { fail, ok } from '../units/result.js';
import { makeGrid } from './grid.js';
import { type ParameterRule, rangeFault, readParameters } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

const float32: ParameterRule<number> = {
  allowed: 'a number within the range of 32-bit floats',
  accepts: (value): value is number => typeof value === 'number' && Number.isFinite(Math.fround(value)),
};

/** One float and its bits. Scratch space only: written and read within one call. */
const float = new Float32Array(1);
const bits = new Uint32Array(float.buffer);
const signBit = 0x80000000;

/**
 * The place of a 32-bit float among all of them, 0 for zero. IEEE 754 binary32 is sign and magnitude, and
 * the magnitude's bits read as an integer rise with it, so the bits count the floats, both zeros being one.
 */
const rankOf = (value: number): number => {
  float[0] = value;
  const pattern = itemAt(bits, 0);
  return pattern < signBit ? pattern : signBit - pattern;
};

/** The float at a rank; never -0, since rank 0 has the pattern of +0. */
const floatOf = (rank: number): number => {
  bits[0] = rank >= 0 ? rank : signBit - rank;
  return itemAt(float, 0);
};

/** Every 32-bit float from end to end, as on a desk that takes floats over OSC and rounds no further. */
export const continuous: QuantiserKind = {
  kind: 'continuous',
  summary: 'every 32-bit float: from, to',
  create: (spec) => {
    const read = readParameters(spec, { from: float32, to: float32 });
    if (!read.ok) return read;
    const { from, to } = read.value;
    const fault = rangeFault(from, to);
    if (fault !== null) return fail(fault);
    // The float nearest to an end may lie just outside it.
    const [nearFrom, nearTo] = [rankOf(from), rankOf(to)];
    const first = floatOf(nearFrom) < from ? nearFrom + 1 : nearFrom;
    const last = floatOf(nearTo) > to ? nearTo - 1 : nearTo;
    if (first > last) {
      const around = [last, first].map((rank) => formatExact(floatOf(rank)));
      return fail(
        `no 32-bit float lies from ${formatExact(from)} to ${formatExact(to)}; the nearest are ${around.join(' and ')}.`,
      );
    }
    return ok(makeGrid(last - first + 1, (index) => floatOf(first + index)));
  },
};
