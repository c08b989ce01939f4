import type { GuardScope } from '../../../guard/guard-scope.js';
import type { Attenuations, PerPoint, Points } from './points.js';

/** Figures closer than this differ by rounding only. */
export const equalDb = 1e-9;

/** What of the loss at a point is set aside, given what the filters that stay as they are take there. */
export type KeepAside = (fixedDb: number) => number;

/**
 * Where filters that no search moves take more by themselves than may be lost, what they take is set aside, and those
 * that move are held to the limit beside it. What a low cut takes at 80 Hz is no licence to take as much at 12 kHz.
 */
export const asideAbove =
  (limitDb: number): KeepAside =>
  (fixedDb) =>
    fixedDb > limitDb + equalDb ? fixedDb : 0;

/** What is set aside at each point of the keep band; nothing elsewhere. */
export const asideOf = (fixed: Attenuations, points: readonly Points[], keepAside: KeepAside): PerPoint =>
  points.map(({ keepFrom, riseFrom }, r) =>
    (fixed[r] as Float64Array).map((fixedDb, i) => (i >= keepFrom && i < riseFrom ? keepAside(fixedDb) : 0)),
  );

/** Where the others alone rise above the scope's limit, the moving ones may add nothing; endless but in the rise band. */
export const leastRiseOf = (
  fixed: Attenuations,
  points: readonly Points[],
  { riseAtMostDb }: GuardScope,
): PerPoint =>
  points.map(({ riseFrom }, r) =>
    (fixed[r] as Float64Array).map((fixedDb, i) =>
      i < riseFrom ? Number.NEGATIVE_INFINITY : Math.min(-riseAtMostDb, fixedDb) - equalDb,
    ),
  );
