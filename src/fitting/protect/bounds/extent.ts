import type { Filter } from '../../../filters/filter.js';
import { hz } from '../../../units/quantity.js';
import { filterAt, type Lattice } from '../space/lattice.js';
import { attenuationsOf, type Points } from '../space/points.js';

export type Range = readonly [from: number, to: number];

/** A block of a lattice: ranges of frequencies, widths and gains, ends included. */
export interface Extent {
  readonly lattice: Lattice;
  readonly f: Range;
  readonly w: Range;
  readonly g: Range;
}

export const isPoint = ([from, to]: Range): boolean => from === to;

export const isSingle = ({ f, w, g }: Extent): boolean => isPoint(f) && isPoint(w) && isPoint(g);

/** The one filter a single extent holds. */
export const singleFilter = ({ lattice, f, w, g }: Extent): Filter => filterAt(lattice, f[0], w[0], g[0]);

/**
 * What bounds the filters of an extent at the points of one realisation: the strongest take at most, and the weakest at
 * least, what any filter inside takes there.
 */
export type Bounds = (extent: Extent, points: Points) => Float64Array;

/** In the keep band a bound is on the least that is taken, everywhere else on the most. */
export const isKept = ({ keepFrom, riseFrom }: Points, index: number): boolean =>
  index >= keepFrom && index < riseFrom;

/** Bounds to be widened by one filter after another. */
export const noBounds = ({ frequenciesHz, keepFrom, riseFrom }: Points): Float64Array =>
  new Float64Array(frequenciesHz.length)
    .fill(Number.NEGATIVE_INFINITY)
    .fill(Number.POSITIVE_INFINITY, keepFrom, riseFrom);

/** Widens bounds by what the strongest and the weakest of some filters take, all moved to one frequency. */
export const widen = (
  bounds: Float64Array,
  strongest: readonly Filter[],
  weakest: readonly Filter[],
  frequencyHz: number,
  points: Points,
): void => {
  const taken = (filter: Filter): Float64Array =>
    attenuationsOf([{ ...filter, frequencyHz: hz(frequencyHz) }], [points])[0] as Float64Array;
  const [most, least] = [strongest.map(taken), weakest.map(taken)];
  for (let i = 0; i < bounds.length; i++) {
    if (isKept(points, i)) {
      for (const each of least) bounds[i] = Math.min(bounds[i] as number, each[i] as number);
    } else {
      for (const each of most) bounds[i] = Math.max(bounds[i] as number, each[i] as number);
    }
  }
};

/** Makes bounds looser by so much. */
export const loosen = (bounds: Float64Array, byDb: number, points: Points): void => {
  if (byDb === 0) return;
  for (let i = 0; i < bounds.length; i++) (bounds[i] as number) += isKept(points, i) ? -byDb : byDb;
};

/** What a filter takes at one frequency, built one way. */
export const takenAt = (filter: Filter, atHz: number, points: Points): number =>
  attenuationsOf([filter], [{ ...points, frequenciesHz: Float64Array.of(atHz) }])[0]?.[0] as number;
