import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { windowFrequencies } from '../../multiplex/guard-figures.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { step } from '../../units/quantity.js';
import { type Box, wholeBox } from './box.js';
import type { BoundPoints, BoxBounds } from './box-bounds.js';
import { type HighCut, highCuts, quickLook } from './high-cuts.js';
import type { Lattice } from './lattice.js';
import { type Attenuations, attenuationsOf, type Points, pointsOf } from './points.js';
import type { SlotClass } from './slot-classes.js';

/** What is searched: lattices for the high cut and for the cuts round the pilot, and what stays as it is. */
export interface SearchProblem {
  readonly highCuts: readonly Lattice[];
  readonly pilotCuts: readonly Lattice[];
  readonly fixed: readonly Filter[];
  readonly realisations: readonly Realisation[];
  readonly scope: GuardScope;
  readonly keepLossAtMostDb: number;
}

/** A problem with everything that is worked out once. */
export interface SearchSpace extends SearchProblem {
  readonly points: readonly Points[];
  readonly boundPoints: readonly BoundPoints[];
  readonly fixedAttenuations: Attenuations;
  readonly fixedQuick: BoxBounds;
  readonly allHighCuts: readonly HighCut[];
  readonly roots: ReadonlyMap<Lattice, Box>;
}

/** Enough to see any hump a resonant cut can make between the keep band's upper part and the pilot. */
const risePoints = 8;

/** Where a hump would show, if the high cuts can have one: only a Q above 1/√2 makes one. */
const riseFrequencies = (
  highCuts: readonly Lattice[],
  { keepHighHz, pilotHz }: GuardScope,
): readonly number[] => {
  const resonant = highCuts.some(({ slotType }) => {
    const grid = slotType.grids.q;
    return grid !== undefined && grid.valueAt(step(grid.count - 1)) > Math.SQRT1_2 + 1e-9;
  });
  const fromHz = keepHighHz / 2;
  return resonant
    ? Array.from({ length: risePoints }, (_, i) => fromHz * (pilotHz / fromHz) ** (i / (risePoints - 1)))
    : [];
};

/** The ends and the middle of the window will do for bells; a notch shows only where it is looked at. */
const windowBoundPoints = (scope: GuardScope, pilotCuts: readonly Lattice[]): readonly number[] => {
  const all = [...windowFrequencies(scope)];
  if (scope.windowHz === 0) return [scope.pilotHz];
  return pilotCuts.some(({ slotType }) => slotType.type === 'notch')
    ? all
    : all.filter((_, i) => i % 4 === 0);
};

const boundPointsOf = ({
  realisations,
  scope,
  highCuts,
  pilotCuts,
}: SearchProblem): readonly BoundPoints[] => {
  const windowHz = windowBoundPoints(scope, pilotCuts);
  const riseHz = riseFrequencies(highCuts, scope);
  return realisations.map((realisation) => ({
    realisation,
    windowHz,
    keepHighHz: scope.keepHighHz,
    riseHz,
  }));
};

export const makeSearchSpace = (problem: SearchProblem): SearchSpace => {
  const { realisations, scope, fixed } = problem;
  const points = realisations.map((realisation) => pointsOf(realisation, scope));
  const boundPoints = boundPointsOf(problem);
  return {
    ...problem,
    points,
    boundPoints,
    fixedAttenuations: attenuationsOf(fixed, points),
    fixedQuick: quickLook(fixed, boundPoints),
    allHighCuts: highCuts(problem.highCuts, points, boundPoints),
    roots: new Map(problem.pilotCuts.map((lattice) => [lattice, wholeBox(lattice, boundPoints)])),
  };
};

/** Whether the desk has slots enough for a high cut and cuts on these lattices. */
export const slotsSuffice = (highCut: Lattice | null, cuts: readonly Lattice[]): boolean => {
  const wanted = new Map<SlotClass, number>();
  for (const { slotClass } of [...(highCut ? [highCut] : []), ...cuts]) {
    wanted.set(slotClass, (wanted.get(slotClass) ?? 0) + 1);
  }
  return [...wanted].every(([slotClass, count]) => count <= slotClass.slots.length);
};

/** Every way of giving so many cuts a lattice each, order left aside. */
export const latticeChoices = (
  lattices: readonly Lattice[],
  count: number,
): readonly (readonly Lattice[])[] =>
  count === 0
    ? [[]]
    : lattices.flatMap((lattice, index) =>
        latticeChoices(lattices.slice(index), count - 1).map((rest) => [lattice, ...rest]),
      );

/** What filters take together: their attenuations add up. */
export const sumOfBounds = (terms: readonly BoxBounds[]): BoxBounds => {
  const summed = (
    pick: (bounds: BoxBounds) => readonly (readonly number[])[],
  ): readonly (readonly number[])[] =>
    pick(terms[0] as BoxBounds).map((first, r) =>
      first.map((_, p) =>
        terms.reduce((sum, term) => sum + ((pick(term)[r] as readonly number[])[p] as number), 0),
      ),
    );
  return {
    inWindowDb: summed(({ inWindowDb }) => inWindowDb),
    atRiseDb: summed(({ atRiseDb }) => atRiseDb),
    atKeepEndDb: (terms[0] as BoxBounds).atKeepEndDb.map((_, r) =>
      terms.reduce((sum, term) => sum + (term.atKeepEndDb[r] as number), 0),
    ),
  };
};
