import { floorDb } from './asked-curve.js';
import type { Setting } from './band-space.js';
import type { Response } from './responses.js';

/** How far a response lies from the curve asked for, over all points of all realisations. */
export interface Score {
  readonly worstDb: number;
  /** The squares of the differences added up: decides where the greatest difference does not. */
  readonly squares: number;
}

/** A setting for every band, and what it comes to. */
export interface Found extends Score {
  readonly settings: readonly Setting[];
}

/** Differences closer than this differ by rounding only. */
export const equalDb = 1e-9;

/** What a score may not exceed. */
export type Limits = Score;

/** The score of three responses together, or null where it exceeds a limit. */
export type Scorer = (a: Response, b: Response, c: Response, limits: Limits) => Score | null;

export const makeScorer = (askedDb: Float64Array): Scorer => {
  // Where the last one failed the next most likely fails too, so it is looked at first.
  let hot = 0;
  return (a, b, c, limits) => {
    const differenceAt = (i: number): number =>
      Math.abs(
        Math.max(floorDb, (a[i] as number) + (b[i] as number) + (c[i] as number)) - (askedDb[i] as number),
      );
    if (differenceAt(hot) > limits.worstDb) return null;
    let worstDb = 0;
    let squares = 0;
    for (let i = 0; i < askedDb.length; i++) {
      const differenceDb = differenceAt(i);
      if (differenceDb > worstDb) {
        worstDb = differenceDb;
        if (worstDb > limits.worstDb) {
          hot = i;
          return null;
        }
      }
      squares += differenceDb * differenceDb;
      if (squares > limits.squares) return null;
    }
    return { worstDb, squares };
  };
};

const travelOf = (settings: readonly Setting[], start: readonly Setting[]): number =>
  settings.reduce(
    (sum, setting, band) =>
      setting.reduce((all, index, knob) => all + Math.abs(index - (start[band]?.[knob] as number)), sum),
    0,
  );

/**
 * Which of two is nearer on the whole, negative for the first: less of squares; of equals the one fewer steps
 * away from nearest, then the one with lower steps.
 */
export const compareSquares = (a: Found, b: Found, start: readonly Setting[], equal = equalDb): number => {
  const squares = a.squares - b.squares;
  if (Math.abs(squares) > equal * (1 + b.squares)) return squares;
  const travel = travelOf(a.settings, start) - travelOf(b.settings, start);
  if (travel !== 0) return travel;
  const [first, second] = [a.settings.flat(), b.settings.flat()];
  const at = first.findIndex((index, i) => index !== second[i]);
  return at < 0 ? 0 : (first[at] as number) - (second[at] as number);
};
