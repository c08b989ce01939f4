import { itemAt } from '../units/at.js';
import type { LastDigit, Reading } from './reading.js';

const unitOf = ({ ifRounded }: Reading): number => ifRounded.most - ifRounded.least;
const middleOf = ({ ifRounded }: Reading): number => (ifRounded.most + ifRounded.least) / 2;

const digitsShown = (reading: Reading): number =>
  Math.floor(Math.log10(Math.abs(middleOf(reading)) * (1 + 1e-9))) +
  1 -
  Math.round(Math.log10(unitOf(reading)));

const areEqual = (values: readonly number[]): boolean => values.every((value) => value === values[0]);

/**
 * What one unit of the last digit on the screen is worth at a value, as far as readings tell: so many digits in all, or
 * the same unit throughout, or as at the reading nearest to it.
 */
export const unitShownAt = (value: number, readings: readonly Reading[]): number => {
  const size = Math.floor(Math.log10(Math.max(Math.abs(value), 1e-9)));
  const nonZero = readings.filter((reading) => Math.abs(middleOf(reading)) > unitOf(reading));
  const digits = nonZero.map(digitsShown);
  const units = readings.map((reading) => Number(unitOf(reading).toPrecision(3)));
  if (areEqual(units) && units.length > 0) return itemAt(units, 0);
  if (areEqual(digits) && digits.length > 0) return Number(`1e${size + 1 - itemAt(digits, 0)}`);
  const distance = (reading: Reading) => Math.abs(Math.log(Math.abs(value / middleOf(reading))));
  const [nearest] = [...nonZero].sort((a, b) => distance(a) - distance(b));
  return nearest ? unitOf(nearest) : itemAt(units, 0);
};

/** A value as the screen would show it, as a reading says it. */
export const asShown = (
  value: number,
  unit: number,
  lastDigit: LastDigit,
): Pick<Reading, 'ifRounded' | 'ifCut'> => {
  const units = value / unit;
  const shown =
    (lastDigit === 'rounded' ? Math.round(units) : Math.trunc(units + Math.sign(units) * 1e-9)) * unit;
  return {
    ifRounded: { least: shown - unit / 2, most: shown + unit / 2 },
    ifCut: shown < 0 ? { least: shown - unit, most: shown } : { least: shown, most: shown + unit },
  };
};
