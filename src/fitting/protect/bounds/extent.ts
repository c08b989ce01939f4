import type { Filter } from '../../../filters/filter.js';
import { itemAt, numberAt } from '../../../units/at.js';
import { hz } from '../../../units/quantity.js';
import { filterAt, type Lattice } from '../space/lattice.js';
import { attenuationsAt, type Points } from '../space/points.js';

export type Range = readonly [from: number, to: number];

/** A block of a lattice: ranges of frequencies, widths and gains, ends included. */
export interface Extent {
  readonly lattice: Lattice;
  readonly f: Range;
  readonly w: Range;
  readonly g: Range;
}

/** The sides of a block: frequency, width, gain. */
export type Side = 'f' | 'w' | 'g';

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
  const { keepFrom, riseFrom } = points;
  const taken = (filter: Filter): Float64Array =>
    attenuationsAt([{ ...filter, frequencyHz: hz(frequencyHz) }], points);
  const most = strongest.map(taken);
  const least = weakest === strongest ? most : weakest.map(taken);
  for (const each of least) {
    for (let i = keepFrom; i < riseFrom; i++) bounds[i] = Math.min(numberAt(bounds, i), numberAt(each, i));
  }
  for (const each of most) {
    for (let i = 0; i < keepFrom; i++) bounds[i] = Math.max(numberAt(bounds, i), numberAt(each, i));
    for (let i = riseFrom; i < bounds.length; i++)
      bounds[i] = Math.max(numberAt(bounds, i), numberAt(each, i));
  }
};

/** Makes bounds looser by so much. */
export const loosen = (bounds: Float64Array, byDb: number, points: Points): void => {
  if (byDb === 0) return;
  for (let i = 0; i < bounds.length; i++)
    bounds[i] = numberAt(bounds, i) + (isKept(points, i) ? -byDb : byDb);
};

/** What a filter takes at one frequency, built one way. */
export const takenAt = (filter: Filter, atHz: number, points: Points): number =>
  numberAt(attenuationsAt([filter], { ...points, frequenciesHz: Float64Array.of(atHz) }), 0);

/** Centres at which to look for extremes over a range of frequencies, and what may lie between them. */
export interface Centres {
  readonly hz: readonly number[];
  /** How far an extreme between two of them may lie beyond what they show. */
  readonly looseDb: number;
}

/** The lowest and the highest of them. */
export const endsOf = ({ hz }: Centres): readonly [bottomHz: number, topHz: number] => [
  itemAt(hz, 0),
  itemAt(hz, hz.length - 1),
];

/** So many inside a range are all looked at; of more, one in so many octaves, and not more than so many. */
const fewInside = 4;
const octavesBetweenLooks = 0.1;
const mostLooks = 12;

/**
 * How far an extreme between two looks h octaves apart may lie beyond both, at points outside the filter's own middle.
 * Where what a filter takes changes smoothly as its centre moves, by h²/8 of the second derivative, which is then below
 * 100 dB per octave squared. Designs that meet the analogue gain at half the sample rate change course near it, by up to
 * 2.4 dB per octave where it matters: a quarter of that times h. Both seen over many filters, not derived (kept by the
 * law of bounds).
 */
const looseBetween = (octaves: number): number => (100 / 8) * octaves * octaves + (2.4 / 4) * octaves;

const octavesBetween = (fromHz: number, toHz: number): number => Math.log2(toHz / fromHz);

/**
 * Both ends of the range, where a filter takes the most and the least of all if what it takes only ever falls, or only
 * ever rises, as it moves; and, where the range reaches beyond `turnHz`, from where on that may not be so, some inside.
 */
export const centresOf = ({ lattice: { frequency }, f: [first, last] }: Extent, turnHz: number): Centres => {
  const bottomHz = frequency.valueAt(first);
  if (first === last) return { hz: [bottomHz], looseDb: 0 };
  const topHz = frequency.valueAt(last);
  const inside = last - first - 1;
  if (inside === 0 || topHz <= turnHz) return { hz: [bottomHz, topHz], looseDb: 0 };
  const octaves = octavesBetween(bottomHz, topHz);
  const looks = Math.min(inside, Math.max(fewInside, Math.ceil(octaves / octavesBetweenLooks)), mostLooks);
  const isAll = inside <= looks;
  // Of very many only the ends are looked at, once they lie so near one another that nothing bends between them.
  if (!isAll && octaves < octavesBetweenLooks / 4) {
    return { hz: [bottomHz, topHz], looseDb: looseBetween(octaves) };
  }
  const at = Array.from({ length: looks }, (_, i) =>
    frequency.valueAt(isAll ? first + 1 + i : first + Math.round(((i + 1) * (last - first)) / (looks + 1))),
  );
  const hz = [bottomHz, ...at, topHz];
  const widest = Math.max(...hz.slice(1).map((each, i) => octavesBetween(itemAt(hz, i), each)));
  return { hz, looseDb: isAll ? 0 : looseBetween(widest) };
};
