import type { Box } from './box.js';
import type { HighCut } from './high-cuts.js';
import { mostTakenDb } from './points.js';
import { type Row, sampled } from './sample.js';
import { equalDb, type Solution } from './solution.js';
import type { SearchSpace } from './space.js';

/** High cuts that beside boxes may come to something, and the most that any of them may reach at the pilot. */
export interface Promising {
  readonly highCuts: readonly HighCut[];
  readonly reachDb: number;
}

/** Tells which high cuts may, beside boxes, make a setting better than the best one known. */
export const promisingIn = (space: SearchSpace) => {
  const { sample } = space;
  const { riseFrom, windowFrom } = sample;
  const fixed = sampled(space.fixedTakes, sample);
  const limits = sampled(space.limits, sample);

  const besides = (boxes: readonly Box[]): Row => {
    const sum = fixed.slice();
    for (const { bounds } of boxes)
      for (let i = 0; i < sum.length; i++) (sum[i] as number) += bounds[i] as number;
    return sum;
  };

  /** The most that bounds allow in the window; -Infinity where a limit must break. */
  const reachOf = (quick: Row, rest: Row): number => {
    for (let i = 0; i < windowFrom; i++) {
      const takenDb = (quick[i] as number) + (rest[i] as number);
      const breaks = i < riseFrom ? takenDb > (limits[i] as number) : takenDb < (limits[i] as number);
      if (breaks) return Number.NEGATIVE_INFINITY;
    }
    let least = mostTakenDb;
    for (let i = windowFrom; i < quick.length; i++) {
      const takenDb = (quick[i] as number) + (rest[i] as number);
      if (takenDb < least) least = takenDb;
    }
    return least;
  };

  /** The least that bounds allow to be lost in the keep band. */
  const lossOf = (quick: Row, rest: Row): number => {
    let most = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < riseFrom; i++) most = Math.max(most, (quick[i] as number) + (rest[i] as number));
    return most;
  };

  return (boxes: readonly Box[], highCuts: readonly HighCut[], best: Solution | null): Promising => {
    const rest = besides(boxes);
    const atLeastDb = best ? best.pilotAttenuationDb - equalDb : Number.NEGATIVE_INFINITY;
    const tieUpToDb = best ? best.pilotAttenuationDb + equalDb : Number.NEGATIVE_INFINITY;
    const promising: HighCut[] = [];
    let mostDb = Number.NEGATIVE_INFINITY;
    for (const highCut of highCuts) {
      const reachDb = reachOf(highCut.quick, rest);
      if (reachDb === Number.NEGATIVE_INFINITY || reachDb < atLeastDb) continue;
      // What can only tie must not lose more.
      if (best && reachDb <= tieUpToDb && lossOf(highCut.quick, rest) > best.keepLossDb + equalDb) continue;
      promising.push(highCut);
      if (reachDb > mostDb) mostDb = reachDb;
    }
    return { highCuts: promising, reachDb: mostDb };
  };
};
