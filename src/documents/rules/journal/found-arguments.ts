import type { FoundArgument } from '../../../model/journal.js';
import { type Problem, problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { foundValueRule } from './found-values.js';

const isInt32 = (number: number): boolean =>
  Number.isInteger(number) && number >= -(2 ** 31) && number < 2 ** 31;

const isInt64 = (digits: string): boolean =>
  /^-?[0-9]{1,19}$/.test(digits) && BigInt.asIntN(64, BigInt(digits)) === BigInt(digits);

const numberFault = (type: FoundArgument['type'], number: number): string | null => {
  if (type === 'i' && !isInt32(number)) {
    return `${number} is no int32; allowed are whole numbers from -2147483648 to 2147483647`;
  }
  return type === 'f' && !Number.isFinite(Math.fround(number))
    ? `${number} is no float32; allowed are numbers up to 3.4028235e38`
    : null;
};

const textFault = (type: FoundArgument['type'], text: string): string | null =>
  type === 'h' && !isInt64(text)
    ? `${quote(text)} is no int64; allowed are whole numbers in digits, from -9223372036854775808 to 9223372036854775807`
    : null;

const carrierOf = { f: 'number', d: 'number', i: 'number', h: 'text', s: 'text' } as const;

const faultOf = ({ type, number, text }: FoundArgument): readonly [key: string, fault: string] | null => {
  const carrier = carrierOf[type];
  const other = carrier === 'number' ? 'text' : 'number';
  const [value, extra] = carrier === 'number' ? [number, text] : [text, number];
  if (value === undefined) return [carrier, `an argument of type ${quote(type)} has a ${carrier}; give it`];
  if (extra !== undefined) {
    return [other, `an argument of type ${quote(type)} has a ${carrier} and no ${other}; take ${other} out`];
  }
  const fault = typeof value === 'number' ? numberFault(type, value) : textFault(type, value);
  return fault === null ? null : [carrier, fault];
};

/** An argument carries its value as its OSC type has it, and the type can hold it (OpenSoundControl 1.0). */
export const foundArguments = foundValueRule('found-arguments', ({ value, path }): readonly Problem[] => {
  const fault = faultOf(value.argument);
  return fault === null
    ? []
    : [problem(foundArguments.name, `${path}.argument.${fault[0]}`, `This cannot be sent: ${fault[1]}.`)];
});
