import type { End, Interval, LastDigit, Reading } from './reading.js';

/** A reading on the way: where its value lies, and how many clicks it is above the first of its chain, which is at 0. */
export interface Placed {
  /** Its place among the readings, from 0. */
  readonly at: number;
  readonly interval: Interval;
  readonly clicks: number;
  readonly stop: End | null;
}

/** Readings that counted clicks join, in the order they were read. */
export type Chain = readonly Placed[];

/** Where a reading's value lies, if the display makes its last digit like this. */
export const intervalOf = (reading: Reading, lastDigit: LastDigit): Interval =>
  lastDigit === 'rounded' ? reading.ifRounded : reading.ifCut;

/**
 * Readings as chains of counted clicks; what nobody counted to begins a chain of its own, unless the knob was back at a stop:
 * there it goes on from where that stop stands.
 */
export const chainsOf = (readings: readonly Reading[], lastDigit: LastDigit): readonly Chain[] => {
  const chains: Placed[][] = [];
  const stops = new Map<End, { readonly chain: Placed[]; readonly clicks: number }>();
  let here: Placed[] | undefined;
  for (const [at, reading] of readings.entries()) {
    const { stop } = reading;
    const before = here?.at(-1);
    const isCounted = before !== undefined && reading.clicksUp !== null;
    const known = stop && !isCounted ? stops.get(stop) : undefined;
    if (!isCounted) here = known?.chain;
    if (here === undefined) {
      here = [];
      chains.push(here);
    }
    const clicks = isCounted ? before.clicks + (reading.clicksUp ?? 0) : (known?.clicks ?? 0);
    here.push({ at, interval: intervalOf(reading, lastDigit), stop, clicks });
    if (stop && !stops.has(stop)) stops.set(stop, { chain: here, clicks });
  }
  return chains;
};
