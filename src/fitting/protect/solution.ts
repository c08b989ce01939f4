/** One setting of the filters that move, with the figures it is ranked by, worst over realisations. */
export interface Solution {
  readonly pilotAttenuationDb: number;
  readonly keepLossDb: number;
  /** Asked for only where the two above leave it open. */
  readonly guardBandDb: () => number;
  /** Steps in a fixed order, for the last of all ties. */
  readonly steps: readonly number[];
}

/** Figures closer than this differ by rounding only. */
export const equalDb = 1e-9;

const compareSteps = (a: readonly number[], b: readonly number[]): number => {
  if (a.length !== b.length) return a.length - b.length;
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
};

/** Whether only the guard band, or steps, can tell which of two is better. */
export const tieSoFar = (a: Solution, b: Solution): boolean =>
  Math.abs(a.pilotAttenuationDb - b.pilotAttenuationDb) <= equalDb &&
  Math.abs(a.keepLossDb - b.keepLossDb) <= equalDb;

/**
 * Whether `a` is the better setting: more attenuation at the pilot; of equals less loss in the keep band, then
 * more of the guard band taken out, then fewer filters and lower steps.
 */
export const isBetter = (a: Solution, b: Solution): boolean => {
  const attenuation = a.pilotAttenuationDb - b.pilotAttenuationDb;
  if (Math.abs(attenuation) > equalDb) return attenuation > 0;
  const loss = a.keepLossDb - b.keepLossDb;
  if (Math.abs(loss) > equalDb) return loss < 0;
  const band = a.guardBandDb() - b.guardBandDb();
  if (Math.abs(band) > equalDb) return band > 0;
  return compareSteps(a.steps, b.steps) < 0;
};
