/** Beyond 10^±30 plain digits are longer than anybody reads, and than the parsers of this room take. */
const farthestExponent = 30;

/** Writes the digits of `d.ddde±n` without the exponent. */
const withoutExponent = (sign: string, digits: string, exponent: number): string => {
  const point = exponent + 1;
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  if (point >= digits.length) return `${sign}${digits}${'0'.repeat(point - digits.length)}`;
  return `${sign}${digits.slice(0, point)}.${digits.slice(point)}`;
};

/**
 * A number for files and programs: the shortest decimal that reads back to the same double
 * (ECMA-262 Number::toString), without an exponent from 1e-30 to 1e30, never `-0`.
 * Throws RangeError for NaN and the infinities: what is not known is not a number, and the caller says so.
 */
export const formatExact = (value: number): string => {
  if (!Number.isFinite(value)) throw new RangeError(`formatExact takes a finite number, not ${value}`);
  const shortest = String(value);
  const parts = /^(-?)(\d)(?:\.(\d+))?e([+-]\d+)$/.exec(shortest);
  if (parts === null) return shortest;
  const [, sign = '', first = '', rest = '', power = ''] = parts;
  const exponent = Number(power);
  return Math.abs(exponent) > farthestExponent ? shortest : withoutExponent(sign, first + rest, exponent);
};
