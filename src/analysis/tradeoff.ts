import type { FitContext, FitOutcome } from '../fitting/fit.js';
import type { GuardTask } from '../fitting/guard-task.js';
import { nearest } from '../fitting/nearest/nearest.js';
import { protect } from '../fitting/protect/protect.js';
import { leastShownDb } from '../fitting/response.js';
import { roundingDb } from '../guard/guard-figures.js';
import type { GuardScope } from '../guard/guard-scope.js';
import type { Intent } from '../model/intent.js';
import type { PlacedFilter } from '../model/recipe.js';
import { makeGuard } from '../recipes/make-guard.js';
import { type Db, db } from '../units/quantity.js';

/** A setting of the protective filters, with its figures in the worst way the desk may build them. */
export interface TradeoffPoint {
  readonly keepLossDb: Db;
  readonly pilotAttenuationDb: Db;
  readonly filters: readonly PlacedFilter[];
  /** What a search left open; left out where the setting is proved to be the best. */
  readonly unproved?: NonNullable<FitOutcome['unproved']>;
}

/** What `protect` chooses within a limit. */
export interface FrontierPoint extends TradeoffPoint {
  readonly keepLossAtMostDb: Db;
}

/** What a desk can do for a pilot, against what that costs the music. */
export interface Tradeoff {
  /** The most attenuation within one limit after the other, the tightest first; a setting that comes again is left out. */
  readonly frontier: readonly FrontierPoint[];
  /** The loosest limit looked at that nothing which helps the pilot keeps; null where something does for each. */
  readonly unmetLimitDb: Db | null;
  readonly nearest: TradeoffPoint;
  /** The attenuation asked, and the setting that reaches it for the least loss; null where none does within the loosest limit. */
  readonly asked: { readonly pilotAttenuationDb: Db; readonly reached: TradeoffPoint | null };
}

/** The limits looked at, nearest's own loss aside. */
export const usualLossLimitsDb: readonly Db[] = [0.3, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6].map(db);

const loosestDb = db(Math.max(...usualLossLimitsDb));

export interface TradeoffContext extends Omit<FitContext, 'guard'> {
  readonly scope: GuardScope;
}

/** The usual protective filters of an FM stereo link, and all of a desk to set them on. */
export interface ProtectionOnDesk {
  readonly intents: readonly Intent[];
  readonly context: TradeoffContext;
}

/** A task that may lose so much, all of it as a matter of course or only to reach what is asked. */
const taskWithin = (scope: GuardScope, limitDb: Db, isOnlyToReach = false): GuardTask => ({
  scope,
  lossLimits: { usualDb: limitDb, mostDb: limitDb, isHard: true, ownDb: db(0), isOnlyToReach },
});

const pointOf = (filters: readonly PlacedFilter[], { desk, scope }: TradeoffContext): TradeoffPoint => {
  const task = taskWithin(scope, loosestDb);
  const { keepLossDb, pilotAttenuationDb } = makeGuard(filters, desk.target.realisations, task).worst;
  return { keepLossDb, pilotAttenuationDb, filters };
};

const sameSetting = (a: TradeoffPoint, b: TradeoffPoint): boolean =>
  JSON.stringify(a.filters) === JSON.stringify(b.filters);

const bestWithin = (
  limitDb: Db,
  intents: readonly Intent[],
  context: TradeoffContext,
): FrontierPoint | null => {
  const { filters, unproved } = protect.fit(intents, {
    ...context,
    guard: taskWithin(context.scope, limitDb),
  });
  const point = pointOf(filters, context);
  // The low cut stays, and may lose more than a tight limit by itself.
  return point.pilotAttenuationDb < leastShownDb || point.keepLossDb > limitDb + roundingDb
    ? null
    : { keepLossAtMostDb: limitDb, ...point, ...(unproved ? { unproved } : {}) };
};

const leastReaching = (intents: readonly Intent[], context: TradeoffContext): TradeoffPoint | null => {
  const { scope } = context;
  const { filters, unproved } = protect.fit(intents, {
    ...context,
    guard: taskWithin(scope, loosestDb, true),
  });
  const point = pointOf(filters, context);
  return point.pilotAttenuationDb >= scope.pilotAttenuationAtLeastDb - roundingDb
    ? { ...point, ...(unproved ? { unproved } : {}) }
    : null;
};

/**
 * Works out the frontier, from the loosest limit to the tightest one within which anything helps. Nearest's own loss is
 * among the limits, so that what nearest gives can be compared with the best there is for the same loss. Pure.
 */
export const tradeoff = (intents: readonly Intent[], context: TradeoffContext): Tradeoff => {
  const plain = pointOf(nearest.fit(intents, { ...context, guard: null }).filters, context);
  const limitsDb = [...new Set([...usualLossLimitsDb, plain.keepLossDb])]
    .filter((limitDb) => limitDb > 0)
    .sort((a, b) => b - a);
  const asked = {
    pilotAttenuationDb: context.scope.pilotAttenuationAtLeastDb,
    reached: leastReaching(intents, context),
  };
  const frontier: FrontierPoint[] = [];
  for (const limitDb of limitsDb) {
    const point = bestWithin(limitDb, intents, context);
    if (!point) return { frontier, unmetLimitDb: limitDb, nearest: plain, asked };
    // The same setting within a tighter limit takes the place of the one before.
    if (frontier[0] && sameSetting(point, frontier[0])) frontier[0] = point;
    else frontier.unshift(point);
  }
  return { frontier, unmetLimitDb: null, nearest: plain, asked };
};
