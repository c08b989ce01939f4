import { buildChain } from '../../filters/build.js';
import { guardBandDb } from '../../multiplex/guard-figures.js';
import { type Box, singleFilter } from './box.js';
import type { HighCut } from './high-cuts.js';
import { stepsAt } from './lattice.js';
import { once } from './once.js';
import { mostTakenDb, type Points } from './points.js';
import type { Solution } from './solution.js';
import type { SearchSpace } from './space.js';

/** A setting found: the high cut, and the single cuts round the pilot. */
export interface Found extends Solution {
  readonly highCut: HighCut;
  readonly cuts: readonly Box[];
}

const stepsOf = (highCut: HighCut, cuts: readonly Box[]): readonly number[] => [
  ...Object.values(highCut.lattice ? stepsAt(highCut.lattice, ...highCut.at) : {}),
  ...cuts.flatMap(({ lattice, f, w, g }) => Object.values(stepsAt(lattice, f[0], w[0], g[0]))),
];

/** Works a setting out exactly; null where it breaks a limit or reaches less at the pilot than `floorDb`. */
export const evaluate = (
  highCut: HighCut,
  cuts: readonly Box[],
  space: SearchSpace,
  floorDb: number,
): Found | null => {
  const { points, limits, scope, realisations } = space;
  const terms = [space.fixedTakes, highCut.attenuations(), ...cuts.map(space.attenuationsOfSingle)];
  let pilotAttenuationDb = mostTakenDb;
  let keepLossDb = Number.NEGATIVE_INFINITY;
  for (let r = 0; r < points.length; r++) {
    const { frequenciesHz, keepFrom, riseFrom } = points[r] as Points;
    const limitDb = limits[r] as Float64Array;
    const takes = terms.map((term) => term[r] as Float64Array);
    for (let i = 0; i < frequenciesHz.length; i++) {
      let takenDb = 0;
      for (const each of takes) takenDb += each[i] as number;
      if (i < keepFrom) {
        if (takenDb < floorDb) return null;
        pilotAttenuationDb = Math.min(pilotAttenuationDb, takenDb);
      } else if (i < riseFrom) {
        if (takenDb > (limitDb[i] as number)) return null;
        keepLossDb = Math.max(keepLossDb, takenDb);
      } else if (takenDb < (limitDb[i] as number)) return null;
    }
  }
  const filters = [...(highCut.filter ? [highCut.filter] : []), ...cuts.map(singleFilter)];
  return {
    pilotAttenuationDb,
    keepLossDb: Math.min(keepLossDb, mostTakenDb),
    guardBandDb: once(() => {
      const all = [...space.fixed, ...filters];
      return Math.min(
        ...realisations.map((each) => guardBandDb(buildChain(all, each), scope, each.sampleRateHz)),
      );
    }),
    steps: stepsOf(highCut, cuts),
    highCut,
    cuts,
  };
};
