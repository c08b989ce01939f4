import { buildChain } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { guardBandDb } from '../../multiplex/guard-figures.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';

/** One setting of the filters that move, with the figures it is ranked by, worst over realisations. */
export interface Solution {
  readonly filters: readonly Filter[];
  readonly pilotAttenuationDb: number;
  readonly keepLossDb: number;
  /** Steps in a fixed order, for the last of all ties. */
  readonly steps: readonly number[];
}

/** Figures closer than this differ by rounding only. */
export const equalDb = 1e-9;

const worstGuardBandDb = (
  filters: readonly Filter[],
  realisations: readonly Realisation[],
  scope: GuardScope,
): number =>
  Math.min(...realisations.map((each) => guardBandDb(buildChain(filters, each), scope, each.sampleRateHz)));

const compareSteps = (a: readonly number[], b: readonly number[]): number => {
  if (a.length !== b.length) return a.length - b.length;
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
};

/**
 * Whether `a` is the better setting: more attenuation at the pilot; of equals less loss in the keep band, then
 * more of the guard band taken out, then fewer filters and lower steps.
 */
export const isBetter = (
  a: Solution,
  b: Solution,
  fixed: readonly Filter[],
  realisations: readonly Realisation[],
  scope: GuardScope,
): boolean => {
  const attenuation = a.pilotAttenuationDb - b.pilotAttenuationDb;
  if (Math.abs(attenuation) > equalDb) return attenuation > 0;
  const loss = a.keepLossDb - b.keepLossDb;
  if (Math.abs(loss) > equalDb) return loss < 0;
  const band =
    worstGuardBandDb([...fixed, ...a.filters], realisations, scope) -
    worstGuardBandDb([...fixed, ...b.filters], realisations, scope);
  if (Math.abs(band) > equalDb) return band > 0;
  return compareSteps(a.steps, b.steps) < 0;
};
