import type { Cents, Db, DbPerOctave, Hz, Octaves, Q } from './quantity.js';

/**
 * Numbers for people. Plain ASCII throughout, the minus sign included, so that whatever is shown can be
 * pasted back into a terminal and is read by `parse.ts`. Negative zero shows as `0`.
 *
 * What one dials (frequencies, gains, Q, widths, slopes) drops trailing zeros: `1 kHz`, `-15 dB`.
 * What one judges by (figures in dB, cents, per cent) keeps one decimal, so that columns line up and the
 * resolution shows: `34.0 dB`, `+12.3 cents`.
 *
 * Every function throws RangeError for NaN and the infinities.
 */

const shownDigits = 4;

const finite = (value: number): number => {
  if (!Number.isFinite(value)) throw new RangeError(`only a finite number can be shown, not ${value}`);
  return value;
};

/** The nearest double with four significant digits. */
const toShownDigits = (value: number): number => Number(finite(value).toPrecision(shownDigits));

const toDecimals = (value: number, decimals: number): number => Number(finite(value).toFixed(decimals));

const plus = (value: number): string => (value > 0 ? '+' : '');

/** One decimal, always: `0.0`, `-3.5`. Rounded twice, since toFixed shows -0.04 as -0.0 but -0 as 0.0. */
const fixedTenths = (value: number): string => toDecimals(value, 1).toFixed(1);

/** Four significant digits, in kHz from 1 kHz up: `35.98 Hz`, `1 kHz`, `19.32 kHz`. */
export const formatFrequency = (frequencyHz: Hz): string => {
  // Rounded before the unit is chosen: 999.96 Hz is 1 kHz.
  const rounded = toShownDigits(frequencyHz);
  return Math.abs(rounded) < 1000
    ? `${formatExact(rounded)} Hz`
    : `${formatExact(toShownDigits(rounded / 1000))} kHz`;
};

/** A gain with its sign, to a hundredth of a dB: `-15 dB`, `+3 dB`, `-0.25 dB`, `0 dB`. */
export const formatGain = (gainDb: Db): string => {
  const rounded = toDecimals(gainDb, 2);
  return `${plus(rounded)}${formatExact(rounded)} dB`;
};

/** A figure in dB that is judged by, such as an attenuation or a loss: `34.0 dB`. */
export const formatDecibels = (levelDb: Db): string => `${fixedTenths(levelDb)} dB`;

/** Four significant digits: `10`, `0.7071`. */
export const formatQ = (q: Q): string => formatExact(toShownDigits(q));

/** Four significant digits: `0.5 oct`, `0.3333 oct`. */
export const formatOctaves = (bandwidthOctaves: Octaves): string =>
  `${formatExact(toShownDigits(bandwidthOctaves))} oct`;

/** Four significant digits: `12 dB/oct`. */
export const formatSlope = (slopeDbPerOctave: DbPerOctave): string =>
  `${formatExact(toShownDigits(slopeDbPerOctave))} dB/oct`;

/** A signed interval: `+12.3 cents`, `-46.2 cents`, `0.0 cents`. */
export const formatCents = (interval: Cents): string => {
  const shown = fixedTenths(interval);
  return `${plus(Number(shown))}${shown} cents`;
};

/** A signed change given as a fraction: 0.017 is `+1.7 %`. */
export const formatPerCent = (fraction: number): string => {
  const shown = fixedTenths(fraction * 100);
  return `${plus(Number(shown))}${shown} %`;
};

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
