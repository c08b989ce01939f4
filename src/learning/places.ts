import { chainsOf } from './chains.js';
import type { Reading } from './reading.js';
import { roundish } from './simplest.js';

/** Where a knob can be turned to. */

const pointsTried = 12;

/** Places spread over the travel of a knob, as round as people can turn to. */
export const spread = (from: number, to: number): readonly number[] => {
  const share = (at: number) => (at + 0.5) / pointsTried;
  const values = Array.from({ length: pointsTried }, (_, at) =>
    from > 0 ? from * (to / from) ** share(at) : from + (to - from) * share(at),
  );
  return [...new Set(values.map((value) => roundish(value)))].filter((value) => value > from && value < to);
};

/** The lowest and the highest that was read. */
export const travelRead = (readings: readonly Reading[]): readonly [number, number] => {
  const middles = readings.map(({ ifRounded: { least, most } }) => (least + most) / 2);
  return [Math.min(...middles), Math.max(...middles)];
};

/** Whether somebody turned to a place and found what had been read before: there are few, or it was near. */
export const endedWhereItWas = (readings: readonly Reading[]): boolean => {
  const turnedAt = readings.findLastIndex(({ clicksUp }) => clicksUp === null);
  const before = readings.slice(0, Math.max(0, turnedAt));
  return (
    before.length > 0 &&
    readings
      .slice(turnedAt)
      .every((reading) => before.some(({ ifRounded: { least } }) => least === reading.ifRounded.least))
  );
};

/** Whether what stands so many clicks from a reading was read. */
export const isRead = (readings: readonly Reading[], at: number, clicks: number): boolean =>
  chainsOf(readings, 'rounded').some((chain) => {
    const from = chain.find((each) => each.at === at);
    return from !== undefined && chain.some((each) => each.clicks === from.clicks + clicks);
  });
