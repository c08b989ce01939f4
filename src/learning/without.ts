import type { KnobReadings, Reading } from './reading.js';

/** What may have to be given up for readings to have an explanation. */
export interface Hypothesis {
  /** Places of readings that are wrong. */
  readonly wrong: readonly number[];
  /** Places of readings that are not one click from the one before, though it was taken for granted. */
  readonly apart: readonly number[];
}

const middleOf = ({ ifRounded: { least, most } }: Reading): number => (least + most) / 2;

/** Clicks on from a reading that was left out; a way that only the wrong value told is told by the values beside it. */
const joined = (before: Reading | undefined, carried: number, reading: Reading, clicks: number): number => {
  const isTurnedBack = Math.sign(carried) * Math.sign(clicks) < 0 && reading.isWayAssumed === true && before;
  if (!isTurnedBack) return carried + clicks;
  return Math.sign(middleOf(reading) - middleOf(before)) * (Math.abs(carried) + Math.abs(clicks));
};

/** Readings without some of them; clicks across a gap add up. */
export const without = ({ knob, readings }: KnobReadings, { wrong, apart }: Hypothesis): KnobReadings => {
  const kept: Reading[] = [];
  let carried: number | null = 0;
  for (const [at, reading] of readings.entries()) {
    const clicks: number | null = apart.includes(at) ? null : reading.clicksUp;
    carried = carried === null || clicks === null ? null : joined(kept.at(-1), carried, reading, clicks);
    if (wrong.includes(at)) continue;
    kept.push({ ...reading, clicksUp: kept.length === 0 ? null : carried });
    carried = 0;
  }
  return { knob, readings: kept };
};
