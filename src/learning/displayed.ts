import type { Interval, KnobReadings, Reading } from './reading.js';

/** Wider than it has to be by so much of its last digit, so that a value on its edge is inside whatever doubles make of it. */
const looseShare = 1e-9;

const within = (least: number, most: number, unit: number): Interval => ({
  least: least - looseShare * unit,
  most: most + looseShare * unit,
});

/** What is cut off never comes to a whole unit: that would show as the next. */
const cutOff = (value: number, unit: number): Interval => {
  const short = unit * (1 - 4 * looseShare);
  if (value === 0) return { least: -short, most: short };
  return value > 0
    ? { least: value - looseShare * unit, most: value + short }
    : { least: value - short, most: value + looseShare * unit };
};

/** What one unit of the last digit is worth in typed text: 10 for `19.32k`, 0.1 for `-14.5`; null for a fraction, which is exact. */
export const lastDigitUnit = (text: string): number | null => {
  const plain = text.toLowerCase();
  if (plain.includes('/') && !plain.includes('db/')) return null;
  const [, , decimals = '', power = '0'] =
    /(\d*)(?:[.k](\d+))?(?:e([+-]?\d+))?/.exec(plain.replace(/^[^\d.]*/, '')) ?? [];
  return Number(`1e${Number(power) + (plain.includes('k') ? 3 : 0) - decimals.length}`);
};

/** Where a displayed value may lie, by how its last digit came about; `unit` is what that digit is worth. */
export const displayedIntervals = (
  value: number,
  unit: number | null,
): Pick<Reading, 'ifRounded' | 'ifCut'> => {
  if (unit === null) {
    const exactly = within(value, value, Math.abs(value));
    return { ifRounded: exactly, ifCut: exactly };
  }
  return { ifRounded: within(value - unit / 2, value + unit / 2, unit), ifCut: cutOff(value, unit) };
};

/** What was answered and not displayed: exact but for the rounding of a number's last bits, so much to either side. */
export const answeredIntervals = (value: number, tolerance: number): Pick<Reading, 'ifRounded' | 'ifCut'> => {
  const exactly = within(value - tolerance, value + tolerance, Math.abs(value) * 1e-3);
  return { ifRounded: exactly, ifCut: exactly };
};

/** Doubles are added up and multiplied on the way: no interval is taken for narrower than this share of its value, or of the largest. */
const [leastShareOfValue, leastShareOfLargest] = [1e-10, 1e-12];

/** Readings with intervals that arithmetic in doubles can keep apart. */
export const resolvable = ({ knob, readings }: KnobReadings): KnobReadings => {
  const sizeOf = ({ ifRounded: { least, most } }: Reading) => Math.max(Math.abs(least), Math.abs(most));
  const largest = Math.max(0, ...readings.map(sizeOf));
  return {
    knob,
    readings: readings.map((reading) => {
      const floor = Math.max(
        leastShareOfValue * sizeOf(reading),
        leastShareOfLargest * largest,
        Number.MIN_VALUE,
      );
      const wide = (interval: Interval): Interval => {
        const { least, most } = interval;
        return most - least >= floor
          ? interval
          : within((least + most) / 2, (least + most) / 2, floor / 2 / looseShare);
      };
      return { ...reading, ifRounded: wide(reading.ifRounded), ifCut: wide(reading.ifCut) };
    }),
  };
};
