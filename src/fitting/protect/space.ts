import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { type Box, singleFilter, wholeBox } from './box.js';
import { type HighCut, highCuts } from './high-cuts.js';
import type { Lattice } from './lattice.js';
import { type KeepRule, limitsOf } from './limits.js';
import type { LineUp } from './line-ups.js';
import type { Patience } from './patience.js';
import {
  type Attenuations,
  attenuationsOf,
  type PerPoint,
  type Points,
  pointsOf,
  together,
} from './points.js';
import { type Sample, sampleOf } from './sample.js';

/** What is searched: a line-up to choose from, beside what stays as it is. */
export interface SearchProblem extends LineUp {
  readonly fixed: readonly Filter[];
  readonly realisations: readonly Realisation[];
  readonly scope: GuardScope;
  readonly keepRule: KeepRule;
  readonly patience: Patience;
}

/** A problem with everything that is worked out once. */
export interface SearchSpace extends SearchProblem {
  readonly points: readonly Points[];
  readonly fixedTakes: Attenuations;
  readonly limits: PerPoint;
  readonly sample: Sample;
  readonly allHighCuts: readonly HighCut[];
  readonly roots: ReadonlyMap<Lattice, Box>;
  /** What the cut of a single box takes, worked out once. */
  readonly attenuationsOfSingle: (single: Box) => Attenuations;
}

const rememberSingles = (points: readonly Points[]): SearchSpace['attenuationsOfSingle'] => {
  const known = new Map<Lattice, Map<string, Attenuations>>();
  return (single) => {
    const { lattice, f, w, g } = single;
    const onLattice = known.get(lattice) ?? new Map<string, Attenuations>();
    known.set(lattice, onLattice);
    const key = `${f[0]} ${w[0]} ${g[0]}`;
    const found = onLattice.get(key) ?? attenuationsOf([singleFilter(single)], points);
    onLattice.set(key, found);
    return found;
  };
};

export const makeSearchSpace = (problem: SearchProblem): SearchSpace => {
  const { realisations, scope, fixed, pilotCuts } = problem;
  const points = realisations.map((realisation) => pointsOf(realisation, scope));
  const fixedTakes = attenuationsOf(fixed, points);
  const limits = limitsOf(fixedTakes, points, problem.keepRule, scope);
  const room = limits.map((limitDb, r) =>
    limitDb.map((db, i) => db - ((fixedTakes[r] as Float64Array)[i] as number)),
  );
  const sample = sampleOf(points, room, problem.highCuts, pilotCuts, scope);
  return {
    ...problem,
    points,
    fixedTakes,
    limits,
    sample,
    allHighCuts: highCuts(problem.highCuts, points, sample),
    roots: new Map(pilotCuts.map((lattice) => [lattice, wholeBox(lattice, sample, problem.patience)])),
    attenuationsOfSingle: rememberSingles(points),
  };
};

/** The same space with some of the cuts settled. */
export const withCuts = (space: SearchSpace, cuts: readonly Filter[]): SearchSpace => ({
  ...space,
  fixed: [...space.fixed, ...cuts],
  fixedTakes: together([space.fixedTakes, attenuationsOf(cuts, space.points)]),
});
