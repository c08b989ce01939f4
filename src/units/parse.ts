/**
 * Reads what engineers type: `19k32`, `19.32 kHz`, `-15 dB`, `Q10`, `1/3 oct`, `3/4`.
 *
 * Case and spaces do not matter; the decimal mark is a point. What is not plainly one thing is refused, and
 * the error is one sentence for the person who typed it: what stood there, what is wrong, what is allowed.
 */

import {
  type Db,
  type DbPerOctave,
  db,
  dbPerOctave,
  type Hz,
  hz,
  type Octaves,
  octaves,
  type Q,
  q,
} from './quantity.js';
import { fail, ok, type Result } from './result.js';
import { gap, onlyAboveZero, parseTyped, readNumber, readNumberOrFraction } from './typed.js';

const branded = <Branded>(
  outcome: Result<number, string>,
  brand: (value: number) => Branded,
): Result<Branded, string> => (outcome.ok ? ok(brand(outcome.value)) : outcome);

const letterAsPoint = new RegExp(`^([+\\-\\u2212]?\\d+)k(\\d+)${gap}(?:hz)?$`, 'i');

/**
 * A frequency in Hz: `19320`, `35Hz`, `1.2e4`, `19 khz`, `19.32 kHz`, `19k`, or `19k32` with the letter in
 * the place of the decimal mark, as IEC 60062 writes resistors.
 */
export const parseFrequency = (text: string): Result<Hz, string> =>
  parseTyped(text, {
    allowed: 'a frequency is above zero, in Hz or kHz, as in "19.32 kHz", "19k32" or "19320"',
    read: (typed) => {
      const plain = typed.replace(letterAsPoint, '$1.$2k');
      return branded(onlyAboveZero(readNumber(plain, { '': 0, hz: 0, k: 3, khz: 3 })), hz);
    },
  });

/** A gain in dB: `-15`, `-15dB`, `+3 dB`, and `0`. */
export const parseGain = (text: string): Result<Db, string> =>
  parseTyped(text, {
    allowed: 'a gain is in dB, as in "-15 dB" or "+3"',
    read: (typed) => branded(readNumber(typed, { '': 0, db: 0 }), db),
  });

const leadingQ = new RegExp(`^q${gap}(?=[^\\s])`, 'i');

/** A quality factor: `10`, `Q10`, `Q 0.7071`. */
export const parseQ = (text: string): Result<Q, string> =>
  parseTyped(text, {
    allowed: 'a Q is a number above zero, as in "10", "Q10" or "Q 0.7071"',
    read: (typed) => branded(onlyAboveZero(readNumber(typed.replace(leadingQ, ''), { '': 0 })), q),
  });

/** A bandwidth in octaves: `0.5 oct`, `1/3 oct`, `1/3`, `2 octaves`. */
export const parseBandwidth = (text: string): Result<Octaves, string> =>
  parseTyped(text, {
    allowed: 'a bandwidth is above zero, in octaves, as in "0.5 oct" or "1/3 oct"',
    read: (typed) =>
      branded(onlyAboveZero(readNumberOrFraction(typed, { '': 0, oct: 0, octave: 0, octaves: 0 })), octaves),
  });

/** A slope in dB per octave: `12`, `12 dB/oct`, `12dB/octave`. */
export const parseSlope = (text: string): Result<DbPerOctave, string> =>
  parseTyped(text, {
    allowed: 'a slope is above zero, in dB per octave, as in "12 dB/oct" or "12"',
    read: (typed) =>
      branded(onlyAboveZero(readNumber(typed, { '': 0, 'db/oct': 0, 'db/octave': 0 })), dbPerOctave),
  });

/** How many of something: a whole number in digits, at least `least` (1 unless given). */
export const parseCount = (text: string, least = 1): Result<number, string> =>
  parseTyped(text, {
    allowed: `a count is a whole number from ${least} up, as in "${Math.max(least, 3)}"`,
    read: (typed) => {
      if (!/^\d+$/.test(typed)) return fail('is not a whole number');
      const count = Number(typed);
      if (!Number.isSafeInteger(count)) return fail('is too large a number');
      return count < least ? fail(`is less than ${least}`) : ok(count);
    },
  });

const onePairOfOutputs = new RegExp(`^([1-9]\\d*)(?:${gap}[/,]${gap}([1-9]\\d*))?$`);
const mostOutputs = 1024;

/** A desk output, or a left/right pair in that order: `3`, `3/4`, `3,4`. Outputs count from 1. */
export const parseOutputs = (text: string): Result<readonly number[], string> =>
  parseTyped(text, {
    allowed: `outputs are numbered 1 to ${mostOutputs}, one or a left/right pair, as in "3" or "3/4"`,
    read: (typed) => {
      const parts = onePairOfOutputs.exec(typed);
      if (parts === null) return fail('is not one output or two');
      const outputs = parts.slice(1).flatMap((digits) => (digits === undefined ? [] : [Number(digits)]));
      const beyond = outputs.find((output) => output > mostOutputs);
      if (beyond !== undefined) return fail('names an output that is too high');
      return new Set(outputs).size < outputs.length ? fail('names the same output twice') : ok(outputs);
    },
  });
