import type { Box } from './box.js';
import type { HighCut } from './high-cuts.js';
import { filterAt, type Lattice, stepsAt } from './lattice.js';
import {
  type Attenuations,
  attenuationsOf,
  inKeepBand,
  inRiseBand,
  inWindow,
  leastOfSum,
  mostOfSum,
} from './points.js';
import { equalDb, type Solution } from './solution.js';
import type { SearchSpace } from './space.js';

/** A setting found: the high cut, and the single cuts round the pilot. */
export interface Found extends Solution {
  readonly highCut: HighCut;
  readonly cuts: readonly Box[];
}

/** Works out settings exactly, remembering what each single cut takes. */
export interface Evaluator {
  /** The setting, or null where it breaks a limit or reaches less at the pilot than `floorDb`. */
  evaluate(highCut: HighCut, cuts: readonly Box[], floorDb: number): Found | null;
}

const stepsOf = (highCut: HighCut, cuts: readonly Box[]): readonly number[] => [
  ...Object.values(highCut.lattice ? stepsAt(highCut.lattice, ...highCut.at) : {}),
  ...cuts.flatMap(({ lattice, f, w, g }) => Object.values(stepsAt(lattice, f[0], w[0], g[0]))),
];

export const makeEvaluator = (space: SearchSpace): Evaluator => {
  const { points, scope } = space;
  const limitDb = space.keepLossAtMostDb + equalDb;
  const known = new Map<Lattice, Map<string, Attenuations>>();

  const attenuationsAt = ({ lattice, f, w, g }: Box): Attenuations => {
    const onLattice = known.get(lattice) ?? new Map<string, Attenuations>();
    known.set(lattice, onLattice);
    const key = `${f[0]} ${w[0]} ${g[0]}`;
    const found = onLattice.get(key) ?? attenuationsOf([filterAt(lattice, f[0], w[0], g[0])], points);
    onLattice.set(key, found);
    return found;
  };

  return {
    evaluate: (highCut, cuts, floorDb) => {
      const terms = [space.fixedAttenuations, highCut.attenuations(), ...cuts.map(attenuationsAt)];
      const pilotAttenuationDb = leastOfSum(terms, points, inWindow);
      if (pilotAttenuationDb < floorDb) return null;
      const keepLossDb = mostOfSum(terms, points, inKeepBand);
      if (keepLossDb > limitDb) return null;
      if (-leastOfSum(terms, points, inRiseBand) > scope.riseAtMostDb + equalDb) return null;
      return {
        filters: [
          ...(highCut.filter ? [highCut.filter] : []),
          ...cuts.map(({ lattice, f, w, g }) => filterAt(lattice, f[0], w[0], g[0])),
        ],
        pilotAttenuationDb,
        keepLossDb,
        steps: stepsOf(highCut, cuts),
        highCut,
        cuts,
      };
    },
  };
};
