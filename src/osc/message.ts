import { isOscAddress } from '../model/address-template.js';
import { quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';

/**
 * One OSC argument, told by its type tag (OpenSoundControl 1.0 and the types that 1.1 adds).
 * `i` int32, `f` float32, `d` float64, `h` int64, `s` string, `b` blob, `t` NTP time tag as 64 bits, `T` true,
 * `F` false, `N` nil, `I` impulse.
 */
export type OscArgument =
  | { readonly type: 'i' | 'f' | 'd'; readonly value: number }
  | { readonly type: 'h' | 't'; readonly value: bigint }
  | { readonly type: 's'; readonly value: string }
  | { readonly type: 'b'; readonly value: Uint8Array }
  | { readonly type: 'T' | 'F' | 'N' | 'I' };

/** The letter that tells an argument's type. */
export type OscTypeTag = OscArgument['type'];

/** What is said to one address; `args` may be empty. */
export interface OscMessage {
  readonly address: string;
  readonly args: readonly OscArgument[];
}

/** The value that arrives when a number is sent as `f`: the nearest 32-bit float. */
export const asFloat32 = (value: number): number => Math.fround(value);

const int32Fault = (value: number): string | null =>
  Number.isInteger(value) && value >= -(2 ** 31) && value < 2 ** 31
    ? null
    : `${value} cannot be sent as i: whole numbers from -2147483648 to 2147483647 can.`;

const float32Fault = (value: number): string | null => {
  const arriving = asFloat32(value);
  if (!Number.isFinite(arriving)) {
    return `${value} cannot be sent as f: finite numbers up to ±3.4028235e38 can.`;
  }
  return arriving === 0 && value !== 0
    ? `${value} cannot be sent as f: it is too small for a 32-bit float and would arrive as 0.`
    : null;
};

const bits64Fault = (value: bigint, type: 'h' | 't'): string | null => {
  const [least, limit] = type === 'h' ? [-(2n ** 63n), 2n ** 63n] : [0n, 2n ** 64n];
  return value >= least && value < limit
    ? null
    : `${value} cannot be sent as ${type}: whole numbers from ${least} to ${limit - 1n} can.`;
};

const stringFault = (value: string): string | null => {
  if (value.includes('\0')) return `${quote(value)} cannot be sent as s: a NUL ends an OSC string.`;
  return /\p{Cs}/u.test(value) ? `${quote(value)} cannot be sent as s: it holds half a character.` : null;
};

/** Why an argument cannot be sent as its type; null where it can. */
const argumentFault = (argument: OscArgument): string | null => {
  switch (argument.type) {
    case 'i':
      return int32Fault(argument.value);
    case 'f':
      return float32Fault(argument.value);
    case 'd':
      return Number.isFinite(argument.value)
        ? null
        : `${argument.value} cannot be sent as d: finite numbers can.`;
    case 'h':
    case 't':
      return bits64Fault(argument.value, argument.type);
    case 's':
      return stringFault(argument.value);
    default:
      return null;
  }
};

const checked = (argument: OscArgument): Result<OscArgument, string> => {
  const fault = argumentFault(argument);
  return fault === null ? ok(argument) : fail(fault);
};

/* An argument of each type. The error is a sentence: what the type cannot carry, and what it can. */

/** A whole number of 32 bits. */
export const oscInt32 = (value: number) => checked({ type: 'i', value });
/** A 32-bit float. Holds the value that will arrive, see `asFloat32`. */
export const oscFloat32 = (value: number): Result<OscArgument, string> => {
  const fault = float32Fault(value);
  return fault === null ? ok({ type: 'f', value: asFloat32(value) }) : fail(fault);
};
/** A 64-bit float. */
export const oscFloat64 = (value: number) => checked({ type: 'd', value });
/** A whole number of 64 bits. */
export const oscInt64 = (value: bigint) => checked({ type: 'h', value });
/** A text, UTF-8 on the wire. */
export const oscString = (value: string) => checked({ type: 's', value });

/** A message to one address; the error is a sentence that says what cannot be sent and why. */
export const oscMessage = (
  address: string,
  args: readonly OscArgument[] = [],
): Result<OscMessage, string> => {
  if (!isOscAddress(address)) return fail(`${quote(address)} is no OSC address of one thing.`);
  const fault = args.map(argumentFault).find((found) => found !== null);
  return fault === undefined || fault === null ? ok({ address, args }) : fail(fault);
};
