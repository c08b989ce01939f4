import { leastWhere } from '../../../quantisers/bisect.js';
import { slotsSuffice } from '../../slot-classes.js';
import type { Box } from '../bounds/box.js';
import { type Axis, flattestQ, type Lattice } from '../space/lattice.js';
import type { SearchSpace } from '../space/search-space.js';
import { betterOf, evaluate, type Found } from './evaluate.js';
import { type Goal, mostAttenuation } from './goal.js';
import { refine } from './refine.js';
import { type Searched, search } from './search.js';
import { workEach } from './work-budget.js';

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

/** The index whose value is nearest by ratio, on an axis whose values rise. */
const nearestTo = (value: number, axis: Axis): number => {
  const above = leastWhere(0, axis.count, (index) => axis.valueAt(index) >= value);
  if (above === 0 || above === axis.count) return Math.min(above, axis.count - 1);
  const [below, from] = [axis.valueAt(above - 1), axis.valueAt(above)];
  return value / below < from / value ? above - 1 : above;
};

/** The width at which a high cut falls latest and does not rise before. */
const gentleWidth = ({ slotType, width }: Lattice): number =>
  slotType.type === 'lowpass' && slotType.grids.q ? nearestTo(flattestQ, width) : width.count - 1;

/** A setting that costs the music little: narrow, deep cuts at the pilot beside the highest and shallowest high cut. */
const gentleSetting = (kind: readonly Lattice[], space: SearchSpace): readonly Box[] =>
  kind.map((lattice) => {
    const { frequency, width, gain } = lattice;
    const isHighCut = space.candidates.highCuts.includes(lattice);
    const f = isHighCut ? frequency.count - 1 : nearestTo(space.scope.pilotHz, frequency);
    const w = isHighCut ? gentleWidth(lattice) : width.count - 1;
    const g = isHighCut ? 0 : gain.count - 1;
    return space.singleAt({ lattice, f: [f, f], w: [w, w], g: [g, g] });
  });

/** The best that is reached from a gentle setting of each kind by turning knobs: to begin a search of several cuts with. */
const climb = (kinds: readonly (readonly Lattice[])[], space: SearchSpace, goal: Goal, known: Found | null) =>
  kinds.reduce<Found | null>((best, kind) => {
    const start = evaluate(gentleSetting(kind, space), space);
    return start?.keepLossDb !== undefined && start.keepLossDb <= goal.limitDb
      ? betterOf(best, refine(start, space, mostAttenuation(goal.limitDb)), goal)
      : best;
  }, known);

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
  // Nothing at all is a setting too, and one that is always there to be bettered.
  let best = betterOf(known, evaluate([], space), goal);
  let openDb = 0;
  for (let count = 0; count <= Math.max(counts.alone, counts.besideHighCut); count++) {
    const kinds = kindsOf(count, counts, space);
    if (kinds.length === 0) continue;
    if (count > 1) best = climb(kinds, space, goal, best);
    space.work.left = workEach;
    const before = best;
    const searched = search(space, rootsOf(kinds, space), goal, best);
    best = searched.found;
    // What was open beside a worse setting is less open beside a better one.
    const gainedDb = best && before ? goal.rank(best) - goal.rank(before) : 0;
    openDb = Math.max(openDb - gainedDb, searched.openDb);
  }
  return { found: best, openDb };
};
