import { buildChain } from '../../../filters/build.js';
import { guardBandDb } from '../../../guard/guard-figures.js';
import type { Box } from '../bounds/box.js';
import { singleFilter } from '../bounds/extent.js';
import { lazy } from '../lazy.js';
import { stepsAt } from '../space/lattice.js';
import { mostTakenDb, type Points } from '../space/points.js';
import type { SearchSpace } from '../space/search-space.js';
import { guardBandWork } from '../work-budget.js';
import { type Goal, isBetter, mayBetter, type Solution, tieSoFar } from './goal.js';

/** A setting found: single boxes, the high cut first if there is one, then the cuts round the pilot. */
export interface Found extends Solution {
  readonly singles: readonly Box[];
}

const stepsOf = (singles: readonly Box[]): readonly number[] =>
  singles.flatMap(({ lattice, f, w, g }) => Object.values(stepsAt(lattice, f[0], w[0], g[0])));

/** The worst figures of single boxes beside the filters that stay; null where something rises. */
const figuresOf = (singles: readonly Box[], space: SearchSpace) => {
  const terms = [space.fixedTakes, ...singles.map(space.attenuationsOfSingle)];
  let pilotAttenuationDb = mostTakenDb;
  let keepLossDb = -mostTakenDb;
  for (let r = 0; r < space.points.length; r++) {
    const { frequenciesHz, keepFrom, riseFrom } = space.points[r] as Points;
    const atLeastDb = space.takeAtLeastDb[r] as Float64Array;
    const asideDb = space.asideDb[r] as Float64Array;
    const takes = terms.map((term) => term[r] as Float64Array);
    for (let i = 0; i < frequenciesHz.length; i++) {
      let takenDb = 0;
      for (const each of takes) takenDb += each[i] as number;
      if (i < keepFrom) pilotAttenuationDb = Math.min(pilotAttenuationDb, takenDb);
      else if (i < riseFrom) keepLossDb = Math.max(keepLossDb, takenDb - (asideDb[i] as number));
      else if (takenDb < (atLeastDb[i] as number)) return null;
    }
  }
  return { pilotAttenuationDb, keepLossDb: Math.min(keepLossDb, mostTakenDb) };
};

/** A setting worked out exactly; null where it rises. */
export const evaluate = (singles: readonly Box[], space: SearchSpace): Found | null => {
  const figures = figuresOf(singles, space);
  if (!figures) return null;
  return {
    ...figures,
    guardBandDb: lazy(() => {
      space.work.left -= guardBandWork * space.realisations.length;
      const all = [...space.fixed, ...singles.map(singleFilter)];
      return Math.min(
        ...space.realisations.map((each) =>
          guardBandDb(buildChain(all, each), space.scope, each.sampleRateHz),
        ),
      );
    }),
    steps: stepsOf(singles),
    singles,
  };
};

/** The better of the best so far and a setting, where that holds what must hold. */
export const betterOf = (best: Found | null, found: Found | null, goal: Goal): Found | null => {
  if (!found || !goal.isWithin(found)) return best;
  if (!best) return found;
  if (!tieSoFar(found, best, goal) && !mayBetter(found, best, goal)) return best;
  return isBetter(found, best, goal) ? found : best;
};
