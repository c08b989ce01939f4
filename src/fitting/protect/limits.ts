import type { GuardScope } from '../../multiplex/guard-scope.js';
import type { Attenuations, PerPoint, Points } from './points.js';
import { equalDb } from './solution.js';

/** How much may be lost at a point of the keep band where the filters that stay as they are take so much. */
export type KeepRule = (fixedDb: number) => number;

/** So much at every point. */
export const everywhere =
  (limitDb: number): KeepRule =>
  () =>
    limitDb;

/**
 * So much; but where the others alone take more than was asked, which no choice of the moving ones can help, as much as
 * was asked by the moving ones. What a low cut takes at 80 Hz is no licence to take as much at 12 kHz.
 */
export const besideOthers =
  (askedDb: number, limitDb: number): KeepRule =>
  (fixedDb) =>
    fixedDb > askedDb + equalDb ? Math.max(limitDb, fixedDb + askedDb) : limitDb;

/**
 * What a chain may take at most at each point of the keep band and must take at least at each point of the rise band;
 * endless in the window. Where the others alone rise above the scope's limit, the moving ones may add nothing.
 */
export const limitsOf = (
  fixed: Attenuations,
  points: readonly Points[],
  rule: KeepRule,
  { riseAtMostDb }: GuardScope,
): PerPoint =>
  points.map(({ keepFrom, riseFrom }, r) =>
    (fixed[r] as Float64Array).map((fixedDb, i) => {
      if (i < keepFrom) return Number.POSITIVE_INFINITY;
      return i < riseFrom ? rule(fixedDb) + equalDb : Math.min(-riseAtMostDb, fixedDb) - equalDb;
    }),
  );
