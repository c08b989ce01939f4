import type { Box } from '../bounds/box.js';
import type { Lattice } from '../space/lattice.js';
import { besideSingles, type SearchSpace } from '../space/search-space.js';
import { slotsSuffice } from '../space/slot-classes.js';
import { evaluate, type Found } from './evaluate.js';
import { type Goal, isBetter } from './goal.js';
import { type Searched, search } from './search.js';

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

const isHighCut = ({ lattice }: Box, { candidates }: SearchSpace): boolean =>
  candidates.highCuts.includes(lattice);

const mostRounds = 6;

/**
 * A good setting with one cut more than `from` has, to begin a search with: the best cut to add to those there are, then
 * each filter in turn made the best beside the others, until nothing improves.
 */
const climb = (from: Found, space: SearchSpace, goal: Goal): Found => {
  const { pilotCuts } = space.candidates;
  const place = (box: Box): number => pilotCuts.indexOf(box.lattice);
  const byStep = (a: Box, b: Box): number => a.f[0] - b.f[0] || a.w[0] - b.w[0] || a.g[0] - b.g[0];
  const ordered = (singles: readonly Box[]): readonly Box[] =>
    [...singles].sort((a, b) => place(a) - place(b) || byStep(a, b));
  /** The best filter of some lattices beside others that stay. */
  const bestBeside = (others: readonly Box[], lattices: readonly Lattice[], best: Found): Found => {
    const kinds = lattices
      .filter((lattice) => slotsSuffice(classesOf([lattice, ...others.map((each) => each.lattice)])))
      .map((lattice) => [space.rootOf(lattice)]);
    const { found } = search(besideSingles(space, others), kinds, goal);
    const again = found && evaluate(ordered([...others, ...found.singles]), space);
    return again && isBetter(again, best, goal) ? again : best;
  };
  let best = bestBeside(from.singles, pilotCuts, from);
  for (let round = 0; round < mostRounds && best !== from; round++) {
    const before = best;
    for (let index = 0; index < before.singles.length; index++) {
      const single = best.singles[index];
      if (!single) continue;
      const lattices = isHighCut(single, space) ? space.candidates.highCuts : pilotCuts;
      best = bestBeside(
        best.singles.filter((each) => each !== single),
        lattices,
        best,
      );
    }
    if (best === before) break;
  }
  return best;
};

/** Whether a setting with one cut more would have so many, and may. */
const isOneShort = ({ singles }: Found, count: number, counts: CutCounts, space: SearchSpace): boolean => {
  const highCuts = singles.filter((single) => isHighCut(single, space)).length;
  const most = highCuts > 0 ? counts.besideHighCut : counts.alone;
  return singles.length - highCuts === count - 1 && count <= most;
};

/**
 * The best setting of all kinds: with and without a high cut, with as many cuts round the pilot as there may be or any
 * fewer. Every number of cuts is tried: where two are no better than one, three may be.
 */
export const searchCounts = (
  space: SearchSpace,
  counts: CutCounts,
  goal: Goal,
  known: Found | null = null,
): Searched => {
  let best = known;
  let openDb = 0;
  for (let count = 0; count <= Math.max(counts.alone, counts.besideHighCut); count++) {
    const kinds = kindsOf(count, counts, space);
    if (kinds.length === 0) continue;
    if (best && count > 1 && isOneShort(best, count, counts, space)) best = climb(best, space, goal);
    const before = best;
    const searched = search(space, rootsOf(kinds, space), goal, best);
    best = searched.found;
    // What was open beside a worse setting is less open beside a better one.
    const gainedDb = best && before ? goal.rank(best) - goal.rank(before) : 0;
    openDb = Math.max(openDb - gainedDb, searched.openDb);
  }
  return { found: best, openDb };
};
