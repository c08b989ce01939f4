import type { Filter } from '../../../filters/filter.js';
import type { Realisation } from '../../../filters/realisation.js';
import type { GuardScope } from '../../../guard/guard-scope.js';
import { itemAt, numberAt } from '../../../units/at.js';
import { type Box, middleOf, wholeBox } from '../bounds/box.js';
import { type Extent, singleFilter } from '../bounds/extent.js';
import type { Candidates } from '../space/candidates.js';
import type { Lattice } from '../space/lattice.js';
import {
  type Attenuations,
  asideOf,
  attenuationsOf,
  type KeepAside,
  leastRiseOf,
  type PerPoint,
  type Points,
  pointsOf,
} from '../space/points.js';
import { type Sample, sampleOf } from '../space/sample.js';
import { filterWork, type WorkBudget, workFor } from '../work-budget.js';

/** What is searched: candidates to choose from, beside what stays as it is. */
export interface SearchProblem {
  readonly candidates: Candidates;
  readonly fixed: readonly Filter[];
  readonly realisations: readonly Realisation[];
  readonly scope: GuardScope;
  readonly keepAside: KeepAside;
}

/** A problem with everything that is worked out once. */
export interface SearchSpace extends SearchProblem {
  readonly work: WorkBudget;
  readonly points: readonly Points[];
  readonly fixedTakes: Attenuations;
  /** What of the loss at each point is no matter of the filters chosen. */
  readonly asideDb: PerPoint;
  /** What must be taken at least at each point, so that nothing rises. */
  readonly takeAtLeastDb: PerPoint;
  readonly sample: Sample;
  readonly rootOf: (lattice: Lattice) => Box;
  /** The filter in the middle of an extent, as a box of its own; of a single extent that one filter. */
  readonly singleAt: (extent: Extent) => Box;
  /** What the filter of a single box takes, worked out once. */
  readonly attenuationsOfSingle: (single: Box) => Attenuations;
}

const rememberSingles = (
  points: readonly Points[],
  work: WorkBudget,
): SearchSpace['attenuationsOfSingle'] => {
  const known = new Map<Lattice, Map<string, Attenuations>>();
  return (single) => {
    const { lattice, f, w, g } = single;
    const onLattice = known.get(lattice) ?? new Map<string, Attenuations>();
    known.set(lattice, onLattice);
    const key = `${f[0]} ${w[0]} ${g[0]}`;
    const found = onLattice.get(key);
    if (found) return found;
    work.left -= filterWork * points.length;
    const made = attenuationsOf([singleFilter(single)], points);
    onLattice.set(key, made);
    return made;
  };
};

const rememberRoots = (sample: Sample, work: WorkBudget): SearchSpace['rootOf'] => {
  const known = new Map<Lattice, Box>();
  return (lattice) => {
    const root = known.get(lattice) ?? wholeBox(lattice, sample, work);
    known.set(lattice, root);
    return root;
  };
};

export const makeSearchSpace = (problem: SearchProblem): SearchSpace => {
  const { realisations, scope, fixed, candidates } = problem;
  const work: WorkBudget = { left: workFor(1) };
  const points = realisations.map((realisation) => pointsOf(realisation, scope));
  const fixedTakes = attenuationsOf(fixed, points);
  const asideDb = asideOf(fixedTakes, points, problem.keepAside);
  const room = asideDb.map((aside, r) => aside.map((db, i) => db - numberAt(itemAt(fixedTakes, r), i)));
  const sample = sampleOf(points, room, candidates.highCuts, candidates.pilotCuts, scope);
  return {
    ...problem,
    work,
    points,
    fixedTakes,
    asideDb,
    takeAtLeastDb: leastRiseOf(fixedTakes, points, scope),
    sample,
    rootOf: rememberRoots(sample, work),
    singleAt: (extent) => middleOf(extent, sample, work),
    attenuationsOfSingle: rememberSingles(points, work),
  };
};
