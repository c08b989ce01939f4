import { itemAt } from '../units/at.js';
import { chainsOf } from './chains.js';
import type { NextReading } from './learned.js';
import type { Reading } from './reading.js';
import { simplestIn } from './simplest.js';

/** What to read while no rule is in sight. */

/** What one click does is not known well enough: many clicks at once tell it. Null once that was done. */
export const farther = (readings: readonly Reading[]): NextReading | null => {
  const counted = Math.max(0, ...readings.map(({ clicksUp }) => Math.abs(clicksUp ?? 0)));
  const from = readings.find(({ stop }) => stop === 'top') ?? readings.find(({ stop }) => stop !== null);
  if (!from || counted >= 100) return null;
  const clicks = counted < 20 ? 20 : counted < 40 ? 40 : 100;
  return { do: { kind: 'clicks', from, clicksUp: from.stop === 'top' ? -clicks : clicks }, leaves: null };
};

/** A value that was read, and whether the next one above it was read as the next click. */
interface Known {
  readonly value: number;
  readonly reading: Reading;
  readonly isNextRead: boolean;
}

const middleOf = ({ ifRounded: { least, most } }: Reading): number => (least + most) / 2;

const knownValues = (readings: readonly Reading[]): readonly Known[] =>
  chainsOf(readings, 'rounded')
    .flatMap((chain) =>
      chain.map(({ at, clicks }) => ({
        value: middleOf(itemAt(readings, at)),
        reading: itemAt(readings, at),
        isNextRead: chain.some((each) => each.clicks === clicks + 1),
      })),
    )
    .sort((a, b) => a.value - b.value || Number(a.isNextRead) - Number(b.isNextRead));

/** So few values are read one after the other; where there may be more, stretches are looked for. */
const mostListed = 24;

const smallestShare = (known: readonly Known[]): number => {
  const span = itemAt(known, known.length - 1).value - itemAt(known, 0).value;
  const steps = known.slice(1).flatMap(({ value }, at) => {
    const before = itemAt(known, at);
    return before.isNextRead && value > before.value ? [value - before.value] : [];
  });
  return steps.length === 0 ? Number.POSITIVE_INFINITY : span / Math.max(...steps);
};

/** The next value after the last one read. */
const onwards = (readings: readonly Reading[]): NextReading | null => {
  const last = readings.at(-1);
  if (!last) return null;
  const way = last.stop === 'top' ? -1 : last.stop === 'bottom' ? 1 : Math.sign(last.clicksUp ?? 1) || 1;
  return { do: { kind: 'clicks', from: last, clicksUp: way }, leaves: null };
};

/**
 * No rule explains what was read: of a knob with few values the next one; else the middle of the widest stretch where
 * nothing was read, and the click after it, since steps may change there.
 */
export const explore = (readings: readonly Reading[]): NextReading | null => {
  const known = knownValues(readings);
  if (known.length < 2 || smallestShare(known) <= mostListed) return onwards(readings);
  const isLogarithmic = itemAt(known, 0).value > 0;
  const gaps = known.slice(1).flatMap(({ value: to }, at) => {
    const { value: from, isNextRead } = itemAt(known, at);
    if (isNextRead || !(to > from)) return [];
    const middle = isLogarithmic ? Math.sqrt(from * to) : (from + to) / 2;
    return [{ middle, width: isLogarithmic ? Math.log(to / from) : to - from }];
  });
  const [widest] = gaps.sort((a, b) => b.width - a.width);
  if (!widest) return onwards(readings);
  const loose = Math.abs(widest.middle) * 0.03;
  const value = simplestIn({ least: widest.middle - loose, most: widest.middle + loose });
  return { do: { kind: 'near', value, thenClicksUp: 1 }, leaves: null };
};
