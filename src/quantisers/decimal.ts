/**
 * Exact decimals. A grid that counts in decimals must hold the very double that its value written out as
 * a literal would be: 0.3, not 0.30000000000000004. So values are integers n and a power of ten p, and become
 * doubles by one operation: n / 10^-p or n · 10^p. Integers up to 2^53 and powers of ten up to 10^22 are
 * exact as doubles (5^22 < 2^53), and IEEE 754 division and multiplication are correctly rounded; a literal
 * is correctly rounded too (ECMA-262), so both give the double nearest to the same real number.
 */

const mostPlaces = 22;

// From text, since `10 ** n` need not be exact (ECMA-262 leaves it to the engine).
const powersOfTen = Array.from({ length: mostPlaces + 1 }, (_, power) => Number(`1e${power}`));

/** `factor` · 10^`power` with one rounding; powers from -22 to 22. */
export const timesPowerOfTen = (factor: number, power: number): number => {
  const scale = powersOfTen[Math.abs(power)];
  if (scale === undefined) throw new RangeError(`10^${power} is not exact as a double`);
  return power < 0 ? factor / scale : factor * scale;
};

/** Digits and exponent of the shortest decimal that reads back to the same double. */
const shortest = (value: number): { readonly mantissa: string; readonly exponent: number } => {
  const [mantissa = '', exponent = '0'] = String(value).split('e');
  return { mantissa, exponent: Number(exponent) };
};

/** How many digits the shortest decimal of a number has after its point: 0 for 1e21, 2 for 0.25. */
export const decimalPlaces = (value: number): number => {
  const { mantissa, exponent } = shortest(value);
  return Math.max(0, (mantissa.split('.')[1] ?? '').length - exponent);
};

/** A number's shortest decimal times 10^`places`, or null where that is no integer or more than is exact. */
export const asInteger = (value: number, places: number): number | null => {
  if (places > mostPlaces) return null;
  const { mantissa, exponent } = shortest(value);
  const integer = Number(`${mantissa}e${exponent + places}`);
  return Number.isSafeInteger(integer) ? integer : null;
};
