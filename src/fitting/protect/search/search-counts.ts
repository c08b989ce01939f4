import { leastWhere } from '../../../quantisers/bisect.js';
import { slotsSuffice } from '../../slot-classes.js';
import type { Box } from '../bounds/box.js';
import { type Axis, flattestQ, type Lattice } from '../space/lattice.js';
import { workFor } from '../work-budget.js';
import { betterOf, evaluate, type Found } from './evaluate.js';
import { type Goal, mostAttenuation, mostAttenuationTowards } from './goal.js';
import { refine } from './incumbent.js';
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

/** A setting whose filters are unlike: one low, wide and deep beside one high, narrow and shallow, in turn. */
const unlikeSetting = (kind: readonly Lattice[], space: SearchSpace): readonly Box[] =>
  kind.map((lattice, index) => {
    const isLow = index % 2 === 0;
    const at = ({ count }: Axis, isEarly: boolean) => {
      const step = Math.round((count - 1) * (isEarly ? 1 / 4 : 3 / 4));
      return [step, step] as const;
    };
    const { frequency, width, gain } = lattice;
    return space.singleAt({
      lattice,
      f: at(frequency, isLow),
      w: at(width, isLow),
      g: at(gain, !isLow),
    });
  });

/** Beyond so many cuts there are too many kinds to begin each of them twice, and fine knobs take too long to turn. */
const mostUnlike = 2;
const mostSettings = 200_000;

const isCoarse = ({ frequency, width, gain }: Lattice): boolean =>
  frequency.count * width.count * gain.count <= mostSettings;

/** The best that is reached from a setting or two of each kind by turning knobs: to begin a search of several cuts with. */
const climb = (kinds: readonly (readonly Lattice[])[], count: number, space: SearchSpace, goal: Goal) =>
  kinds.flatMap((kind) => {
    const gentle = evaluate(gentleSetting(kind, space), space);
    const isTried = count <= mostUnlike && kind.every(isCoarse);
    const unlike = isTried ? evaluate(unlikeSetting(kind, space), space) : null;
    return [
      ...(gentle && gentle.keepLossDb <= goal.limitDb
        ? [refine(gentle, space, mostAttenuation(goal.limitDb))]
        : []),
      ...(unlike ? [refine(unlike, space, mostAttenuationTowards(goal.limitDb))] : []),
    ];
  });

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
    if (count > 1) best = bestOf([best, ...climb(kinds, count, space, goal)], goal);
    space.work.left = workFor(count);
    const searched = search(space, rootsOf(kinds, space), goal, best);
    best = searched.found;
    openRank = Math.max(openRank, searched.openRank);
  }
  if (openRank === Number.NEGATIVE_INFINITY) return { found: best, openDb: 0 };
  return { found: best, openDb: best ? Math.max(0, openRank - goal.rank(best)) : Number.POSITIVE_INFINITY };
};
