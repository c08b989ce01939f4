import { slotsSuffice } from '../../slot-classes.js';
import type { Lattice } from '../space/lattice.js';
import { workFor } from '../work-budget.js';
import { betterOf, evaluate, type Found } from './evaluate.js';
import type { Goal } from './goal.js';
import { incumbentsOf } from './incumbent.js';
import { search } from './search.js';
import type { SearchSpace } from './search-space.js';

/** How many cuts round the pilot there may be, beside a high cut and where there is none. */
export interface CutCounts {
  readonly besideHighCut: number;
  readonly alone: number;
  /** Where the slot of a high cut may be given to a further cut, if need be. */
  readonly insteadOfHighCut: number;
}

const classesOf = (lattices: readonly Lattice[]) => lattices.map(({ slotClass }) => slotClass);

/** Every way of giving so many cuts a lattice and a slot each, order left aside. */
const cutChoices = (lattices: readonly Lattice[], count: number): readonly (readonly Lattice[])[] =>
  count === 0
    ? [[]]
    : lattices.flatMap((lattice, index) =>
        cutChoices(lattices.slice(index), count - 1)
          .map((rest) => [lattice, ...rest])
          .filter((chosen) => slotsSuffice(classesOf(chosen))),
      );

/** Every kind of setting with so many cuts: with each high cut there is and without one. */
const kindsOf = (
  count: number,
  counts: CutCounts,
  { candidates }: SearchSpace,
): readonly (readonly Lattice[])[] => {
  const cuts = cutChoices(candidates.pilotCuts, count);
  return [
    ...(count <= counts.alone ? cuts : []),
    ...(count <= counts.besideHighCut
      ? candidates.highCuts.flatMap((highCut) => cuts.map((each) => [highCut, ...each]))
      : []),
  ].filter((lattices) => slotsSuffice(classesOf(lattices)));
};

const rootsOf = (kinds: readonly (readonly Lattice[])[], { rootOf }: SearchSpace) =>
  kinds.map((lattices) => lattices.map(rootOf));

const bestOf = (found: readonly (Found | null)[], goal: Goal): Found | null =>
  found.reduce<Found | null>((best, each) => betterOf(best, each, goal), null);

/** The best setting of every number of cuts. */
export interface BestOfCounts {
  readonly found: Found | null;
  /** By how much another may be better at most, in dB of what the goal is after; infinite where none was found. */
  readonly openDb: number;
}

/**
 * The best setting of all kinds: with and without a high cut, with as many cuts round the pilot as there may be or any
 * fewer. Every number of cuts is tried: where two are no better than one, three may be.
 */
export const searchCounts = (
  space: SearchSpace,
  counts: CutCounts,
  goal: Goal,
  known: readonly Found[] = [],
): BestOfCounts => {
  // Nothing at all is a setting too, and one that is always there to be bettered.
  let best = bestOf([...known, evaluate([], space)], goal);
  let openRank = Number.NEGATIVE_INFINITY;
  for (let count = 0; count <= Math.max(counts.alone, counts.besideHighCut); count++) {
    const kinds = kindsOf(count, counts, space);
    if (kinds.length === 0) continue;
    if (count > 1) best = bestOf([best, ...incumbentsOf(kinds, count, space, goal)], goal);
    space.work.left = workFor(count);
    const searched = search(space, rootsOf(kinds, space), goal, best);
    best = searched.found;
    openRank = Math.max(openRank, searched.openRank);
  }
  if (openRank === Number.NEGATIVE_INFINITY) return { found: best, openDb: 0 };
  return { found: best, openDb: best ? Math.max(0, openRank - goal.rank(best)) : Number.POSITIVE_INFINITY };
};
