import { roundingDb } from '../../../guard/guard-figures.js';

/** One setting of the filters that move, with the figures it is ranked by, worst over realisations. */
export interface Solution {
  readonly pilotAttenuationDb: number;
  /** The most that is lost in the keep band, beside what is set aside. */
  readonly keepLossDb: number;
  /** Asked for only where the two above leave it open. */
  readonly guardBandDb: () => number;
  /** Steps in a fixed order, for the last of all ties. */
  readonly steps: readonly number[];
}

/** What filters may come to: at most so much attenuation at the pilot, at least so much loss. */
export interface Outlook {
  readonly pilotAttenuationDb: number;
  readonly keepLossDb: number;
}

/** What a search is after. */
export interface Goal {
  /** The limit on loss. */
  readonly limitDb: number;
  /** Whether something with this outlook may hold what must hold. */
  isWithin(outlook: Outlook): boolean;
  /** What is to be as large as can be, in dB. */
  rank(outlook: Outlook): number;
  /** What decides between equal ranks, as large as can be. */
  second(outlook: Outlook): number;
}

/** The most attenuation at the pilot within a limit on loss, and of equals the least loss. */
export const mostAttenuation = (keepLossAtMostDb: number): Goal => ({
  limitDb: keepLossAtMostDb,
  isWithin: ({ keepLossDb }) => keepLossDb <= keepLossAtMostDb + roundingDb,
  rank: ({ pilotAttenuationDb }) => pilotAttenuationDb,
  second: ({ keepLossDb }) => -keepLossDb,
});

/** What a dB of loss beyond a limit is set against, in dB at the pilot: far more than it can buy. */
const lossPrice = 1000;

/** The most attenuation within a limit, for coming to it from without: what is lost beyond it weighs heavily. */
export const mostAttenuationTowards = (keepLossAtMostDb: number): Goal => ({
  limitDb: Number.POSITIVE_INFINITY,
  isWithin: () => true,
  rank: ({ pilotAttenuationDb, keepLossDb }) =>
    pilotAttenuationDb - lossPrice * Math.max(0, keepLossDb - keepLossAtMostDb),
  second: ({ keepLossDb }) => -keepLossDb,
});

/** The least loss, within a limit, that attenuates the pilot by so much; of equals the most attenuation. */
export const leastLoss = (pilotAttenuationAtLeastDb: number, keepLossAtMostDb: number): Goal => ({
  limitDb: keepLossAtMostDb,
  isWithin: ({ pilotAttenuationDb, keepLossDb }) =>
    pilotAttenuationDb >= pilotAttenuationAtLeastDb - roundingDb &&
    keepLossDb <= keepLossAtMostDb + roundingDb,
  rank: ({ keepLossDb }) => -keepLossDb,
  second: ({ pilotAttenuationDb }) => pilotAttenuationDb,
});

const compareSteps = (a: readonly number[], b: readonly number[]): number => {
  if (a.length !== b.length) return a.length - b.length;
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
};

/** Whether only the guard band, or steps, can tell which of two is better. */
export const tieSoFar = (a: Solution, b: Solution, goal: Goal): boolean =>
  Math.abs(goal.rank(a) - goal.rank(b)) <= roundingDb &&
  Math.abs(goal.second(a) - goal.second(b)) <= roundingDb;

/** Whether something with this outlook may still be better than a setting, or tie with it. */
export const mayBetter = (outlook: Outlook, best: Solution, goal: Goal): boolean => {
  const ahead = goal.rank(outlook) - goal.rank(best);
  return (
    ahead > roundingDb || (ahead >= -roundingDb && goal.second(outlook) >= goal.second(best) - roundingDb)
  );
};

/**
 * Whether `a` is the better setting: by the goal; of equals by more of the guard band taken out, then by fewer filters
 * and lower steps.
 */
export const isBetter = (a: Solution, b: Solution, goal: Goal): boolean => {
  const first = goal.rank(a) - goal.rank(b);
  if (Math.abs(first) > roundingDb) return first > 0;
  const second = goal.second(a) - goal.second(b);
  if (Math.abs(second) > roundingDb) return second > 0;
  const placed = a.guardBandDb() - b.guardBandDb();
  if (Math.abs(placed) > roundingDb) return placed > 0;
  return compareSteps(a.steps, b.steps) < 0;
};
