import { quote } from '../../units/quote.js';
import { fail } from '../../units/result.js';
import { type Encoding, nearestOn, numberAs, numberIn } from './encoding.js';

/** The value itself: hertz, decibels, Q, octaves, decibels per octave. */
export const engineeringEncoding: Encoding = {
  as: 'engineering',
  encode: ({ value, text }, type) =>
    value === null
      ? fail(`${quote(text)} is no number and cannot be sent as engineering: index, fraction and text can.`)
      : numberAs(type, value, 'nearest float'),
  decode: (argument, scale) => {
    const number = numberIn(argument);
    return number.ok ? nearestOn(scale, number.value) : number;
  },
};
