import type { OscEncoding } from '../model/target.js';
import { formatExact } from '../units/format.js';
import { quote } from '../units/quote.js';
import { fail, type Result } from '../units/result.js';
import {
  asFloat32,
  type OscArgument,
  oscFloat32,
  oscFloat64,
  oscInt32,
  oscInt64,
  oscString,
} from './message.js';

/** What there is to say of a setting; which of it travels is for the encoding to tell. */
export interface Setting {
  /** Its step, and how many its grid has. */
  readonly index: number;
  readonly of: number;
  /** Hz, dB, Q, octaves or dB per octave; null for a setting that is not a number. */
  readonly value: number | null;
  /** As the desk shows it. */
  readonly text: string;
}

/** Step over last step. A grid of one step has only its bottom. */
const fraction = ({ index, of }: Setting): number => (of === 1 ? 0 : index / (of - 1));

/** Whether a number must arrive to the last digit, or as the nearest one its type has. */
type Need = 'exactly' | 'nearest float';

const numberAs = (type: OscEncoding['type'], number: number, need: Need): Result<OscArgument, string> => {
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

/**
 * The argument that carries a setting: its value (`engineering`), its step (`index`), its step over the last
 * step (`fraction`) or what the desk shows (`text`), as the OSC type the encoding names. A number as `s` is
 * written in decimal.
 *
 * Values and fractions go into an `f` as the nearest 32-bit float; nothing else is rounded. The error is a
 * sentence that says what the type cannot carry.
 */
export const argumentFor = (encoding: OscEncoding, setting: Setting): Result<OscArgument, string> => {
  switch (encoding.as) {
    case 'index':
      return numberAs(encoding.type, setting.index, 'exactly');
    case 'fraction':
      return numberAs(encoding.type, fraction(setting), 'nearest float');
    case 'engineering':
      return setting.value === null
        ? fail(
            `${quote(setting.text)} is no number and cannot be sent as engineering: index, fraction and text can.`,
          )
        : numberAs(encoding.type, setting.value, 'nearest float');
    case 'text':
      return encoding.type === 's'
        ? oscString(setting.text)
        : fail(`The text ${quote(setting.text)} cannot be sent as ${encoding.type}: as s it can.`);
  }
};
