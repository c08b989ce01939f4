import { fail, ok, type Result } from '../units/result.js';

/** A number as JSON writes it (RFC 8259, section 6). */
export const isNumberLiteral = (text: string): boolean =>
  /^-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?$/.test(text);

export interface NumberFault {
  readonly code: 'number-too-large' | 'number-too-small' | 'number-loses-digits';
  readonly message: string;
}

/** Any decimal with this many significant digits survives a double (IEEE 754 binary64: 15). */
const digitsAlwaysKept = 15;
/** As many as toPrecision writes. */
const digitsComparable = 100;

const significantDigits = (literal: string): string =>
  literal
    .replace(/[eE].*$/, '')
    .replace(/[-.]/g, '')
    .replace(/^0+/, '');

const withoutZeros = (digits: string): string => digits.replace(/0+$/, '');

/**
 * Whether a double, written with as many digits as the literal has, reads the same. Half-way between two decimals
 * toPrecision goes up and the shortest form (ECMA-262 Number::toString) to the even one: either is the double's own.
 */
const keepsDigits = (value: number, digits: string): boolean => {
  if (digits.length <= digitsAlwaysKept) return true;
  const wanted = withoutZeros(digits);
  if (wanted.length <= digitsAlwaysKept) return true;
  if (wanted.length > digitsComparable) return false;
  const size = Math.abs(value);
  return [size.toPrecision(wanted.length), String(size)].some(
    (written) => withoutZeros(significantDigits(written)) === wanted,
  );
};

/**
 * The double a JSON number literal means, never negative zero.
 * The error tells a literal that no double holds: too large, too small, or with more digits than are kept.
 */
export const readNumberLiteral = (literal: string): Result<number, NumberFault> => {
  const value = Number(literal);
  const digits = significantDigits(literal);
  if (!Number.isFinite(value)) {
    return fail({ code: 'number-too-large', message: 'is too large a number; nothing here is beyond 1e308' });
  }
  if (value === 0) {
    return digits === ''
      ? ok(0)
      : fail({
          code: 'number-too-small',
          message: 'is so small a number that it would be taken as 0; write 0',
        });
  }
  return keepsDigits(value, digits)
    ? ok(value)
    : fail({
        code: 'number-loses-digits',
        message: `has more digits than a number here keeps (IEEE 754 double, about 17); write ${value}`,
      });
};
