import { itemAt } from '../units/at.js';
import type { Interval } from './reading.js';

/**
 * Equal steps: the value at so many clicks is `base + clicks · step`, of the values themselves or of their logarithms.
 * What readings leave open of the two numbers is a convex polygon, since each reading is a strip between two lines; so
 * what is possible and what is not is known exactly, and extremes stand at corners.
 */
export interface Line {
  readonly base: number;
  readonly step: number;
}

/** The corners of what is possible, in order round it; empty where nothing is. */
export type Region = readonly Line[];

const valueOn = ({ base, step }: Line, clicks: number): number => base + clicks * step;

/** The corners that lie on one side, with those where the edges cross the border: `distance` is negative outside. */
const clipped = (region: Region, distance: (line: Line) => number): Region => {
  const kept: Line[] = [];
  for (const [index, here] of region.entries()) {
    const next = itemAt(region, (index + 1) % region.length);
    const [inside, insideNext] = [distance(here), distance(next)];
    if (inside >= 0) kept.push(here);
    if (inside < 0 !== insideNext < 0) {
      const share = inside / (inside - insideNext);
      kept.push({
        base: here.base + share * (next.base - here.base),
        step: here.step + share * (next.step - here.step),
      });
    }
  }
  return kept;
};

/** What is left of a region when the value at so many clicks lies in an interval. */
export const narrowed = (region: Region, clicks: number, { least, most }: Interval): Region => {
  const above = clipped(region, (line) => valueOn(line, clicks) - least);
  return above.length === 0 ? above : clipped(above, (line) => most - valueOn(line, clicks));
};

/** All lines through two intervals so many clicks apart. */
export const through = (clicks: number, first: Interval, apart: number, second: Interval): Region =>
  (
    [
      [first.least, second.least],
      [first.least, second.most],
      [first.most, second.most],
      [first.most, second.least],
    ] as const
  ).map(([from, to]) => {
    const step = (to - from) / apart;
    return { base: from - clicks * step, step };
  });

/** The least and the most of something that is greatest and least at corners: of any linear-fractional rule. */
export const extentOf = (region: Region, rule: (line: Line) => number): Interval => {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const line of region) {
    const value = rule(line);
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return { least, most };
};

/** Where the value at so many clicks may lie. */
export const valueExtent = (region: Region, clicks: number): Interval =>
  extentOf(region, (line) => valueOn(line, clicks));

/** Its middle: inside, since it is convex. */
export const middleOfRegion = (region: Region): Line => ({
  base: region.reduce((sum, { base }) => sum + base, 0) / region.length,
  step: region.reduce((sum, { step }) => sum + step, 0) / region.length,
});

/** What is left where each click adds something in an interval. */
export const withStepIn = (region: Region, { least, most }: Interval): Region => {
  const above = clipped(region, (line) => line.step - least);
  return above.length === 0 ? above : clipped(above, (line) => most - line.step);
};

/** What is left where each click adds exactly so much, but for rounding: a stretch, or nothing. */
export const withExactStep = (region: Region, step: number): Region => {
  const tolerance = Math.abs(step) * 1e-12;
  return withStepIn(region, { least: step - tolerance, most: step + tolerance });
};
