import { fail, ok } from '../../units/result.js';
import { type Encoding, numberAs, numberIn } from './encoding.js';

/** The step, counted from 0 at the bottom. */
export const stepIndexEncoding: Encoding = {
  as: 'index',
  encode: ({ index }, type) => numberAs(type, index, 'exactly'),
  decode: (argument, { count }) => {
    const number = numberIn(argument);
    if (!number.ok) return number;
    return Number.isInteger(number.value) && number.value >= 0 && number.value < count
      ? ok(number.value)
      : fail(`${number.value} is none of the ${count} steps from 0 to ${count - 1}`);
  },
};
