import type { OscEncoding } from '../../model/target.js';
import { formatExact } from '../../units/format.js';
import { fail, type Result } from '../../units/result.js';
import {
  asFloat32,
  type OscArgument,
  oscFloat32,
  oscFloat64,
  oscInt32,
  oscInt64,
  oscString,
} from '../message.js';

/** Whether a number must arrive to the last digit, or as the nearest one its type has. */
type Need = 'exactly' | 'nearest float';

/**
 * A number as an argument. As `s` it is written in decimal; into an `f` it goes as the nearest 32-bit float where
 * that will do. Nothing else is rounded: the error says what the type cannot carry.
 */
export const numberAs = (
  type: OscEncoding['type'],
  number: number,
  need: Need,
): Result<OscArgument, string> => {
  // A gain of -0 dB is 0 dB.
  const value = number + 0;
  switch (type) {
    case 'i':
      return oscInt32(value);
    case 'h':
      return Number.isSafeInteger(value)
        ? oscInt64(BigInt(value))
        : fail(`${value} cannot be sent as h: whole numbers can.`);
    case 'f':
      return need === 'exactly' && asFloat32(value) !== value
        ? fail(`${value} cannot be sent as f: a 32-bit float would make it ${asFloat32(value)}.`)
        : oscFloat32(value);
    case 'd':
      return oscFloat64(value);
    case 's':
      return oscString(formatExact(value));
  }
};
