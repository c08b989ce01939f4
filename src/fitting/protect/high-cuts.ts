import { buildSections } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import { attenuationDbAt } from '../../filters/response.js';
import { hz } from '../../units/quantity.js';
import type { BoundPoints, BoxBounds } from './box-bounds.js';
import { filterAt, type Lattice } from './lattice.js';
import { type Attenuations, attenuationsOf, type Points } from './points.js';

/** One setting of the high cut, or of what stands in for one; `lattice` is null where there is none. */
export interface HighCut {
  readonly lattice: Lattice | null;
  readonly filter: Filter | null;
  readonly at: readonly [f: number, w: number, g: number];
  /** What it takes at the points bounds are taken at. */
  readonly quick: BoxBounds;
  /** Everything, worked out when first asked for. */
  readonly attenuations: () => Attenuations;
}

const once = <Value>(make: () => Value): (() => Value) => {
  let made: { readonly value: Value } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
};

/** What filters take at bound points only. */
export const quickLook = (filters: readonly Filter[], boundPoints: readonly BoundPoints[]): BoxBounds => {
  const chains = boundPoints.map(({ realisation }) =>
    filters.flatMap((filter) => buildSections(filter, realisation)),
  );
  const takes = (r: number, atHz: number): number => attenuationDbAt(chains[r] ?? [], hz(atHz));
  return {
    inWindowDb: boundPoints.map(({ windowHz }, r) => windowHz.map((atHz) => takes(r, atHz))),
    atKeepEndDb: boundPoints.map(({ keepHighHz }, r) => takes(r, keepHighHz)),
    atRiseDb: boundPoints.map(({ riseHz }, r) => riseHz.map((atHz) => takes(r, atHz))),
  };
};

const makeHighCut = (
  lattice: Lattice | null,
  at: HighCut['at'],
  points: readonly Points[],
  boundPoints: readonly BoundPoints[],
): HighCut => {
  const filter = lattice && filterAt(lattice, ...at);
  const filters = filter ? [filter] : [];
  return {
    lattice,
    filter,
    at,
    quick: quickLook(filters, boundPoints),
    attenuations: once(() => attenuationsOf(filters, points)),
  };
};

/** Every setting of the high cuts the lattices hold; a wire where there is no lattice. */
export const highCuts = (
  lattices: readonly Lattice[],
  points: readonly Points[],
  boundPoints: readonly BoundPoints[],
): readonly HighCut[] =>
  lattices.length === 0
    ? [makeHighCut(null, [0, 0, 0], points, boundPoints)]
    : lattices.flatMap((lattice) =>
        lattice.frequencies.flatMap((_, f) =>
          lattice.widths.flatMap((_, w) =>
            lattice.gains.map((_, g) => makeHighCut(lattice, [f, w, g], points, boundPoints)),
          ),
        ),
      );
