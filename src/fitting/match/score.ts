import { roundingDb } from '../../guard/guard-figures.js';
import { numberAt } from '../../units/at.js';
import { leastShownDb } from '../response.js';
import { floorDb } from './asked-curve.js';
import type { Setting } from './filter-space.js';
import type { Response } from './responses.js';

/** How far a response lies from the curve asked for, over all points of all realisations. */
export interface Score {
  readonly worstDb: number;
  /** The squares of the differences added up: decides where the greatest difference does not. */
  readonly squares: number;
}

/** A setting for every filter, and what it comes to. */
export interface Scored extends Score {
  readonly settings: readonly Setting[];
}

/** The score of two responses together, or null where the greatest difference exceeds `atMostDb`. */
export type Scorer = (a: Response, b: Response, atMostDb: number) => Score | null;

export const makeScorer = (askedDb: Float64Array): Scorer => {
  // Where the last one failed the next most likely fails too, so it is looked at first.
  let hot = 0;
  return (a, b, atMostDb) => {
    const differenceAt = (i: number): number =>
      Math.abs(Math.max(floorDb, numberAt(a, i) + numberAt(b, i)) - numberAt(askedDb, i));
    if (differenceAt(hot) > atMostDb) return null;
    let worstDb = 0;
    let squares = 0;
    for (let i = 0; i < askedDb.length; i++) {
      const differenceDb = differenceAt(i);
      if (differenceDb > worstDb) {
        worstDb = differenceDb;
        if (worstDb > atMostDb) {
          hot = i;
          return null;
        }
      }
      squares += differenceDb * differenceDb;
    }
    return { worstDb, squares };
  };
};

/** The place of the point at which a response lies farthest from the curve asked for. */
export const worstPointOf = (response: Response, askedDb: Float64Array): number => {
  let worst = 0;
  let worstDb = -1;
  response.forEach((gainDb, i) => {
    const differenceDb = Math.abs(Math.max(floorDb, gainDb) - numberAt(askedDb, i));
    if (differenceDb > worstDb) [worst, worstDb] = [i, differenceDb];
  });
  return worst;
};

/** What a search is after: the greatest difference it lets pass, and which of two is the better. */
export interface Aim {
  readonly atMostDb: (best: Scored) => number;
  readonly isBetter: (a: Score, b: Score) => boolean;
}

/** The least greatest difference. */
export const leastWorst: Aim = {
  atMostDb: (best) => best.worstDb,
  isBetter: (a, b) => a.worstDb < b.worstDb - roundingDb,
};

/** The greatest difference as people are shown it, in tenths of a dB: what a fit is to make least. */
export const shownDb = ({ worstDb }: Score): number => Number(worstDb.toFixed(1));

/** Half of what the last shown digit stands for, less some room for rounding. */
const belowNextShownDb = leastShownDb - 1e-6;

/** The smallest sum of squares among what shows the same greatest difference: less than is shown bends no filter. */
export const leastSquares = (least: Score): Aim => {
  const atMostDb = Math.max(least.worstDb, shownDb(least) + belowNextShownDb);
  return {
    atMostDb: () => atMostDb,
    isBetter: (a, b) => a.squares < b.squares - roundingDb * (1 + b.squares),
  };
};

/** Whether a aim would have a setting at all. */
export const passes = (found: Scored, aim: Aim): boolean => found.worstDb <= aim.atMostDb(found) + roundingDb;
