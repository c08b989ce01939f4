import type { OscEncoding } from '../../model/target.js';
import { fail, ok, type Result } from '../../units/result.js';
import type { OscArgument } from '../message.js';
import { type Encoding, numberIn, type Scale, type ScaleSetting } from './encoding.js';
import { engineeringEncoding } from './engineering.js';
import { fractionEncoding } from './fraction.js';
import { stepIndexEncoding } from './step-index.js';
import { textEncoding } from './text.js';

/** Every way a setting may travel. */
export const encodings: readonly Encoding[] = [
  engineeringEncoding,
  stepIndexEncoding,
  fractionEncoding,
  textEncoding,
];

const encodingNamed = (as: OscEncoding['as']): Encoding => {
  const found = encodings.find((each) => each.as === as);
  if (!found) throw new RangeError(`no encoding is called ${as}`);
  return found;
};

/**
 * The argument that carries a setting, as a target says it travels. The error is a sentence that says what
 * the type cannot carry.
 */
export const argumentFor = ({ as, type }: OscEncoding, setting: ScaleSetting): Result<OscArgument, string> =>
  encodingNamed(as).encode(setting, type);

/**
 * The setting an argument stands for: the nearest one of its scale. The error is the end of a sentence, for
 * instance "it came as s, and f is expected".
 */
export const settingIn = (
  { as, type }: OscEncoding,
  argument: OscArgument,
  scale: Scale,
): Result<ScaleSetting, string> => {
  if (argument.type !== type) return fail(`it came as ${argument.type}, and ${type} is expected`);
  const index = encodingNamed(as).decode(argument, scale);
  return index.ok ? ok(scale.at(index.value)) : index;
};

/** Numbers that differ by less, relative to their size, differ by a desk's arithmetic only. */
const arithmetic = 1e-6;

/**
 * Whether an argument that came back says the same as one that was sent: to the last digit, or, for numbers,
 * but for what a desk's own arithmetic may add. A stepless knob's neighbouring steps lie as near as that.
 */
export const saysTheSame = (sent: OscArgument, read: OscArgument): boolean => {
  if (sent.type !== read.type) return false;
  if (sent.type === 's' && read.type === 's') return sent.value.trim() === read.value.trim();
  const [a, b] = [numberIn(sent), numberIn(read)];
  if (!a.ok || !b.ok) return false;
  return Math.abs(a.value - b.value) <= arithmetic * Math.max(Math.abs(a.value), Math.abs(b.value));
};
