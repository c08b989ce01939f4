import { knobs } from '../model/knob.js';
import { itemAt } from '../units/at.js';
import { chainsOf } from './chains.js';
import type { NextReading } from './learned.js';
import type { KnobReadings, Reading } from './reading.js';
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

/** One click from the end where none was read, of knobs whose steps may grow. */
export const otherEndClicked = ({ knob, readings }: KnobReadings): NextReading | null => {
  if (knobs[knob].measure === 'difference') return null;
  const isClicked = ({ stop }: Reading) =>
    chainsOf(readings, 'rounded').some(
      (chain) =>
        chain.some((each) => each.stop === stop) && chain.some(({ clicks }, at) => at > 0 && clicks !== 0),
    );
  const from = readings.find((reading) => reading.stop !== null && !isClicked(reading));
  return from ? { do: { kind: 'clicks', from, clicksUp: from.stop === 'top' ? -1 : 1 }, leaves: null } : null;
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

/** What steps begin with that people choose, and what these make of each other: 125 times as much and so on. */
const roundMantissas = [1, 2, 2.5, 5, 1.25, 6.25];

/** Whether what one click adds is round wherever it was read: then steps may change from stretch to stretch. */
const stepsAreRound = (known: readonly Known[]): boolean =>
  known.slice(1).every(({ value }, at) => {
    const before = itemAt(known, at);
    const step = Number((value - before.value).toPrecision(9));
    const mantissa = Number(step.toExponential().split('e')[0]);
    return !before.isNextRead || step === 0 || roundMantissas.includes(mantissa);
  });

/** More values than these nobody reads one by one. */
const mostListed = 30;

/** Whether a knob has more values than anybody would read, as far as single clicks tell how far apart they lie. */
const areMany = (known: readonly Known[]): boolean => {
  const [lowest, highest] = [itemAt(known, 0).value, itemAt(known, known.length - 1).value];
  const isLogarithmic = lowest > 0;
  const far = (from: number, to: number) => (isLogarithmic ? Math.log(to / from) : to - from);
  const widest = Math.max(
    0,
    ...known.slice(1).map(({ value }, at) => {
      const before = itemAt(known, at);
      return before.isNextRead ? far(before.value, value) : 0;
    }),
  );
  return widest > 0 && far(lowest, highest) / widest > mostListed;
};

/** The lowest value that was not read: the next one above those read without a gap from the bottom stop. */
const onwards = (readings: readonly Reading[]): NextReading | null => {
  const chain = chainsOf(readings, 'rounded').find((each) => each.some(({ stop }) => stop === 'bottom'));
  const bottom = chain?.find(({ stop }) => stop === 'bottom');
  if (!chain || !bottom) return null;
  const read = new Set(chain.map(({ clicks }) => clicks - bottom.clicks));
  let next = 0;
  while (read.has(next)) next += 1;
  const last = chain.find(({ at }) => at === readings.length - 1);
  if (last && last.clicks - bottom.clicks === next - 1) {
    return { do: { kind: 'clicks', from: itemAt(readings, last.at), clicksUp: 1 }, leaves: null };
  }
  return { do: { kind: 'clicks', from: itemAt(readings, bottom.at), clicksUp: next }, leaves: null };
};

/**
 * No rule explains what was read: of a knob with few values the next one; else the middle of the widest stretch where
 * nothing was read, and the click after it, since steps may change there.
 */
export const explore = (readings: readonly Reading[]): NextReading | null => {
  const known = knownValues(readings);
  if (known.length < 2 || !(stepsAreRound(known) || areMany(known))) return onwards(readings);
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
