import type { Intent } from '../model/intent.js';
import type { Band } from '../model/recipe.js';
import type { GuardScope } from '../multiplex/guard-scope.js';
import { type Db, db } from '../units/quantity.js';
import type { FitContext, FitOutcome } from './fit.js';
import { makeGuard } from './make-guard.js';
import { nearest } from './nearest.js';
import { protect } from './protect/protect.js';

/** A setting of the protective filters, with its figures in the worst way the desk may build them. */
export interface TradeoffPoint {
  readonly keepLossDb: Db;
  readonly pilotAttenuationDb: Db;
  readonly bands: readonly Band[];
}

/** What `protect` chooses within a limit. */
export interface FrontierPoint extends TradeoffPoint {
  readonly keepLossLimitDb: Db;
  readonly unproved?: NonNullable<FitOutcome['unproved']>;
}

/** What a desk can do for a pilot, against what that costs the music. */
export interface Tradeoff {
  /** The most attenuation within one limit after the other, the tightest first; a setting that comes again is left out. */
  readonly frontier: readonly FrontierPoint[];
  /** The loosest limit looked at that no setting keeps; null where one was found for each. */
  readonly unmetLimitDb: Db | null;
  readonly nearest: TradeoffPoint;
}

/** The limits looked at, nearest's own loss aside. */
export const usualLossLimitsDb: readonly Db[] = [0.3, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6].map(db);

export interface TradeoffContext extends FitContext {
  readonly scope: GuardScope;
}

const pointOf = (bands: readonly Band[], { desk, scope }: TradeoffContext): TradeoffPoint => {
  const { keepLossDb, pilotAttenuationDb } = makeGuard(bands, desk.target.realisations, scope).worst;
  return { keepLossDb, pilotAttenuationDb, bands };
};

const sameSetting = (a: TradeoffPoint, b: TradeoffPoint): boolean =>
  JSON.stringify(a.bands) === JSON.stringify(b.bands);

/** Room for the last bits of a logarithm. */
const roundingDb = 1e-9;

/** What `protect` chooses within a limit or, where none keeps it, within the least that one does; null for nothing. */
const bestWithin = (
  limitDb: Db,
  intents: readonly Intent[],
  context: TradeoffContext,
): FrontierPoint | null => {
  const scope = { ...context.scope, keepLossAtMostDb: limitDb };
  const { bands, shortcomings, unproved } = protect.fit(intents, { ...context, scope });
  const unkept = shortcomings.find((each) => each.kind === 'keep-limit');
  if (unkept) return unkept.leastDb === null ? null : bestWithin(unkept.leastDb, intents, context);
  const point = pointOf(bands, context);
  // Where nothing can be searched, protect gives what nearest does, which keeps no limit.
  return point.keepLossDb > limitDb + roundingDb
    ? null
    : { keepLossLimitDb: limitDb, ...point, ...(unproved ? { unproved } : {}) };
};

/** Puts a point before those found for looser limits; in the place of the first where both are one setting. */
const withTighter = (
  point: FrontierPoint,
  [first, ...others]: readonly FrontierPoint[],
): readonly FrontierPoint[] => {
  if (!first) return [point];
  // The least limit is told to a tenth of a dB up, which may lie above a limit that was kept.
  if (point.keepLossLimitDb >= first.keepLossLimitDb) return [first, ...others];
  return sameSetting(point, first) ? [point, ...others] : [point, first, ...others];
};

/**
 * Works out the frontier, from the loosest limit to the tightest one that can be kept. Nearest's own loss is among the
 * limits, so that what nearest gives can be compared with the best there is for the same loss. Pure.
 */
export const tradeoff = (intents: readonly Intent[], context: TradeoffContext): Tradeoff => {
  const plain = pointOf(nearest.fit(intents, context).bands, context);
  const limitsDb = [...new Set([...usualLossLimitsDb, plain.keepLossDb])]
    .filter((limitDb) => limitDb > 0)
    .sort((a, b) => b - a);
  let frontier: readonly FrontierPoint[] = [];
  for (const limitDb of limitsDb) {
    const point = bestWithin(limitDb, intents, context);
    if (point) frontier = withTighter(point, frontier);
    if (point?.keepLossLimitDb !== limitDb) return { frontier, unmetLimitDb: limitDb, nearest: plain };
  }
  return { frontier, unmetLimitDb: null, nearest: plain };
};
