import type { OscEncoding } from '../../model/target.js';
import { type Measure, nearestStep } from '../../quantisers/snap.js';
import { formatExact } from '../../units/format.js';
import { fail, ok, type Result } from '../../units/result.js';
import {
  asFloat32,
  type OscArgument,
  oscFloat32,
  oscFloat64,
  oscInt32,
  oscInt64,
  oscString,
} from '../message.js';

/** What there is to say of a setting; which of it travels is for the encoding to tell. */
export interface ScaleSetting {
  /** Its step, and how many its scale has. */
  readonly index: number;
  readonly of: number;
  /** Hz, dB, Q, octaves or dB per octave; null for a setting that is not a number. */
  readonly value: number | null;
  /** As the desk shows it. */
  readonly text: string;
}

/** Everything one parameter can be set to: a knob's grid as the desk shows it, its filter types, its switch. */
export interface Scale {
  readonly count: number;
  /** How far apart two values are; the scale of what is not a number has none. */
  readonly measure: Measure | null;
  at(index: number): ScaleSetting;
}

/** A way a setting travels: what is sent for it, and which step an argument that comes back stands for. */
export interface Encoding {
  readonly as: OscEncoding['as'];
  /** The error says what the type cannot carry. */
  encode(setting: ScaleSetting, type: OscEncoding['type']): Result<OscArgument, string>;
  /** The nearest step; `argument` is of the type that was expected. The error says why it stands for none. */
  decode(argument: OscArgument, scale: Scale): Result<number, string>;
}

/** The number an argument carries; a text is read as a decimal number, no other way of writing one is taken. */
export const numberIn = (argument: OscArgument): Result<number, string> => {
  if (!('value' in argument) || argument.value instanceof Uint8Array)
    return fail(`an argument of type ${argument.type} is no number`);
  const { value } = argument;
  const isDecimal = typeof value !== 'string' || /^-?\d+(\.\d+)?$/.test(value);
  const number = isDecimal ? Number(value) : Number.NaN;
  // -0 is 0: a desk that tells a gain of -0 dB stands at 0 dB.
  return Number.isFinite(number) ? ok(number + 0) : fail(`${JSON.stringify(String(value))} is no number`);
};

/**
 * The step of a scale whose value is nearest to a number; an end of the scale for what lies beyond it, the upper one of
 * two that are equally near. The error is the end of a sentence: the scale is no scale of numbers, or the number is not
 * above 0 where distance is by ratio.
 */
export const nearestOn = ({ count, measure, at }: Scale, number: number): Result<number, string> => {
  if (measure === null) return fail('a number says nothing here');
  if (!Number.isFinite(number)) return fail('it is too large a number');
  if (measure === 'ratio' && number <= 0) return fail(`${number} is not above 0`);
  return ok(
    nearestStep({ count, valueAt: (index) => at(index).value ?? Number.NaN }, number, { measure, tie: 'up' }),
  );
};

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
