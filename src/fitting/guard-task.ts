import type { Realisation } from '../filters/realisation.js';
import type { GuardScope } from '../guard/guard-scope.js';
import type { Intent } from '../model/intent.js';
import { db } from '../units/quantity.js';
import { type LossLimits, lossLimitsFor } from './loss-limits.js';

/** The guard a fit is to serve, and how much of the music it may cost. */
export interface GuardTask {
  /** Judged by the greatest loss that may be. */
  readonly scope: GuardScope;
  readonly lossLimits: LossLimits;
}

/** The task that intents and a desk make of a scope: how much may be lost hangs on both. */
export const guardTask = (
  intents: readonly Intent[],
  realisations: readonly Realisation[],
  scope: GuardScope,
): GuardTask => {
  const lossLimits = lossLimitsFor(intents, realisations, scope);
  const keepLossAtMostDb = db(lossLimits.mostDb + lossLimits.ownDb);
  return { scope: { ...scope, keepLossAtMostDb }, lossLimits };
};
