import { buildChain } from '../../../filters/build.js';
import { exceedsDb } from '../../../filters/extremes.js';
import type { Filter } from '../../../filters/filter.js';
import type { Realisation } from '../../../filters/realisation.js';
import type { Section } from '../../../filters/section.js';
import { riseBand } from '../../../guard/guard-figures.js';
import type { GuardScope } from '../../../guard/guard-scope.js';
import { itemAt, numberAt } from '../../../units/at.js';
import { leastShownDb } from '../../response.js';
import { type Box, middleOf, wholeBox } from '../bounds/box.js';
import { type Extent, singleFilter } from '../bounds/extent.js';
import type { Candidates } from '../space/candidates.js';
import { type Judged, judgedOf } from '../space/judged.js';
import type { Lattice } from '../space/lattice.js';
import {
  type Attenuations,
  asideOf,
  attenuationsOf,
  leastRiseOf,
  type PerPoint,
  type Points,
  pointsOf,
  takenBy,
} from '../space/points.js';
import { type Sample, sampleOf } from '../space/sample.js';
import { filterWork, type WorkBudget, workFor } from '../work-budget.js';

/** What is searched: candidates to choose from, beside what stays as it is. */
export interface SearchProblem {
  readonly candidates: Candidates;
  readonly fixed: readonly Filter[];
  readonly realisations: readonly Realisation[];
  readonly scope: GuardScope;
  /** What filters that stay take beyond this loss is set aside. */
  readonly usualLossDb: number;
}

/** One filter as each realisation makes it: its sections, what it takes at the points, and whether it raises anything. */
export interface Built {
  readonly chains: readonly (readonly Section[])[];
  readonly takes: Attenuations;
  readonly isRaising: (realisation: number) => boolean;
}

/** A problem with everything that is worked out once. */
export interface SearchSpace extends SearchProblem {
  readonly work: WorkBudget;
  readonly judged: readonly Judged[];
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
  /** The filter of a single box, worked out once. */
  readonly builtOf: (single: Box) => Built;
}

/** What many filters of a setting may each add, and all of them together still less than anybody sees. */
const noRiseDb = leastShownDb / 500;

const build = (single: Extent, points: readonly Points[]): Built => {
  const chains = points.map(({ realisation }) => buildChain([singleFilter(single)], realisation));
  const known = new Map<number, boolean>();
  return {
    chains,
    takes: chains.map((chain, r) => takenBy(chain, itemAt(points, r))),
    isRaising: (r) => {
      const band = riseBand(itemAt(points, r).realisation.sampleRateHz);
      const isRaising = known.get(r) ?? exceedsDb(itemAt(chains, r), band, noRiseDb);
      known.set(r, isRaising);
      return isRaising;
    },
  };
};

const rememberSingles = (points: readonly Points[], work: WorkBudget): SearchSpace['builtOf'] => {
  const known = new Map<Lattice, Map<string, Built>>();
  return (single) => {
    const { lattice, f, w, g } = single;
    const onLattice = known.get(lattice) ?? new Map<string, Built>();
    known.set(lattice, onLattice);
    const key = `${f[0]} ${w[0]} ${g[0]}`;
    const found = onLattice.get(key);
    if (found) return found;
    work.left -= filterWork * points.length;
    const made = build(single, points);
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
  const judged = realisations.map((each) => judgedOf(fixed, each, scope, problem.usualLossDb));
  const fixedTakes = attenuationsOf(fixed, points);
  const asideDb = asideOf(fixedTakes, points, judged);
  const room = asideDb.map((aside, r) => aside.map((db, i) => db - numberAt(itemAt(fixedTakes, r), i)));
  const sample = sampleOf(points, room, candidates.highCuts, candidates.pilotCuts, scope);
  return {
    ...problem,
    work,
    judged,
    points,
    fixedTakes,
    asideDb,
    takeAtLeastDb: leastRiseOf(fixedTakes, points, scope),
    sample,
    rootOf: rememberRoots(sample, work),
    singleAt: (extent) => middleOf(extent, sample, work),
    builtOf: rememberSingles(points, work),
  };
};
