import type { Filter } from '../../filters/filter.js';
import { filterAt, type Lattice } from './lattice.js';
import { once } from './once.js';
import { type Attenuations, attenuationsOf, type Points } from './points.js';
import { type Row, rowOf, type Sample } from './sample.js';

/** One setting of the high cut, or of what stands in for one; `lattice` is null where there is none. */
export interface HighCut {
  readonly lattice: Lattice | null;
  readonly filter: Filter | null;
  readonly at: readonly [f: number, w: number, g: number];
  /** What it takes at a sample of the points. */
  readonly quick: Row;
  /** Everything, worked out when first asked for. */
  readonly attenuations: () => Attenuations;
}

const makeHighCut = (
  lattice: Lattice | null,
  at: HighCut['at'],
  points: readonly Points[],
  sample: Sample,
): HighCut => {
  const filter = lattice && filterAt(lattice, ...at);
  const filters = filter ? [filter] : [];
  return {
    lattice,
    filter,
    at,
    quick: rowOf(attenuationsOf(filters, sample.points), sample),
    attenuations: once(() => attenuationsOf(filters, points)),
  };
};

/** Every setting of the high cuts the lattices hold; a wire where there is no lattice. */
export const highCuts = (
  lattices: readonly Lattice[],
  points: readonly Points[],
  sample: Sample,
): readonly HighCut[] =>
  lattices.length === 0
    ? [makeHighCut(null, [0, 0, 0], points, sample)]
    : lattices.flatMap((lattice) =>
        lattice.frequencies.flatMap((_, f) =>
          lattice.widths.flatMap((_, w) =>
            lattice.gains.map((_, g) => makeHighCut(lattice, [f, w, g], points, sample)),
          ),
        ),
      );
