import { fail, ok } from '../../units/result.js';
import { type Encoding, numberAs, numberIn } from './encoding.js';

/** A fraction that a desk worked out for itself may end a little beyond either stop. */
const beyondStop = 1e-6;

/** Step over last step, 0 to 1. A scale of one step has only its bottom. */
export const fractionEncoding: Encoding = {
  as: 'fraction',
  encode: ({ index, of }, type) => numberAs(type, of === 1 ? 0 : index / (of - 1), 'nearest float'),
  decode: (argument, { count }) => {
    const number = numberIn(argument);
    if (!number.ok) return number;
    if (number.value < -beyondStop || number.value > 1 + beyondStop) {
      return fail(`${number.value} is no fraction from 0 to 1`);
    }
    return ok(Math.round(Math.min(1, Math.max(0, number.value)) * (count - 1)));
  },
};
