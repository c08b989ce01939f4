import { buildChain } from '../filters/build.js';
import { lowestDb, sidesOf } from '../filters/extremes.js';
import type { Realisation } from '../filters/realisation.js';
import { keepBand } from '../guard/guard-figures.js';
import type { GuardScope } from '../guard/guard-scope.js';
import type { Intent } from '../model/intent.js';
import { type Db, db } from '../units/quantity.js';

/** How much of the music filters that are chosen may cost. */
export interface LossLimits {
  /** As a matter of course. */
  readonly usualDb: Db;
  /** To reach the attenuation asked. */
  readonly mostDb: Db;
  /** Whether a limit was stated: then nothing gives way to it. */
  readonly isHard: boolean;
  /** What is lost beside that to filters a person wrote, which is their own business; 0 for a limit that was stated. */
  readonly ownDb: Db;
  /** Whether any of it is spent only to reach the attenuation asked: the least that does, whatever more would buy. */
  readonly isOnlyToReach?: boolean;
}

/** A loss that is no matter, whatever was asked. Common practice, no source. */
const smallLossDb = 1;

/**
 * What filters as asked, at their exact values, would cost the music in the worst way of building them, and how much of
 * that is by filters a person wrote. Where those take more than a small loss by themselves, it is no licence for others.
 */
const costAsAsked = (
  intents: readonly Intent[],
  realisations: readonly Realisation[],
  scope: GuardScope,
): { readonly chosenDb: number; readonly ownDb: number } => {
  const written = intents.filter(({ mayMove }) => !mayMove);
  let [chosenDb, ownDb] = [0, 0];
  for (const realisation of realisations) {
    const [own, all] = [buildChain(written, realisation), buildChain(intents, realisation)];
    for (const { band, isAbove } of sidesOf(own, keepBand(scope), -smallLossDb)) {
      if (isAbove) chosenDb = Math.max(chosenDb, -lowestDb(all, band));
      else ownDb = Math.max(ownDb, -lowestDb(own, band));
    }
  }
  return { chosenDb, ownDb };
};

/**
 * How much the music may lose to filters chosen for some intents. A limit stated is hard. Otherwise no more than what was
 * asked for would cost by itself, or 1 dB; and to reach the attenuation asked up to the scope's greatest.
 */
const lossLimitsFor = (
  intents: readonly Intent[],
  realisations: readonly Realisation[],
  scope: GuardScope,
): LossLimits => {
  const { keepLossAtMostDb, isKeepLossStated } = scope;
  if (isKeepLossStated)
    return { usualDb: keepLossAtMostDb, mostDb: keepLossAtMostDb, isHard: true, ownDb: db(0) };
  const { chosenDb, ownDb } = costAsAsked(intents, realisations, scope);
  const usualDb = db(Math.max(smallLossDb, chosenDb));
  return { usualDb, mostDb: db(Math.max(usualDb, keepLossAtMostDb)), isHard: false, ownDb: db(ownDb) };
};

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
