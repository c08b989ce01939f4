import { buildSections } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { attenuationDbAt } from '../../filters/response.js';
import { hz } from '../../units/quantity.js';
import { filterAt, type Lattice } from './lattice.js';

export type Range = readonly [from: number, to: number];

/** A block of a lattice: ranges of frequencies, widths and gains, ends included. */
export interface Extent {
  readonly lattice: Lattice;
  readonly f: Range;
  readonly w: Range;
  readonly g: Range;
}

/**
 * Where a realisation is looked at for bounds: some points of the pilot's window, the end of the keep band and,
 * where a high cut may have a hump, some points it may rise at.
 */
export interface BoundPoints {
  readonly realisation: Realisation;
  readonly windowHz: readonly number[];
  readonly keepHighHz: number;
  readonly riseHz: readonly number[];
}

/**
 * What no cut of a box exceeds at the window's points and at those of a rise, and what each takes at the keep
 * band's end at least.
 */
export interface BoxBounds {
  readonly inWindowDb: readonly (readonly number[])[];
  readonly atKeepEndDb: readonly number[];
  readonly atRiseDb: readonly (readonly number[])[];
}

const nearestWithin = (atHz: number, bottomHz: number, topHz: number): number =>
  Math.min(Math.max(atHz, bottomHz), topHz);

const farthestWithin = (atHz: number, bottomHz: number, topHz: number): number =>
  atHz * atHz > bottomHz * topHz ? bottomHz : topHz;

/**
 * Bounds over a whole box, for every realisation, from its corners: nothing in the box takes more at a point
 * than its widest, deepest cut would if its centre lay as near to the point as the box reaches, and nothing
 * takes less than the narrowest, shallowest cut with its centre as far away as the box reaches.
 *
 * For this it is enough that what a cut takes at a point grows with its width and with its depth, and falls as
 * its centre moves away. A bell or notch is |H|² = (u + z) / (u + p), where u = (x − 1/x)² tells how far the
 * frequency lies from the centre, and z ≤ p are the inverse squares of the Qs of its zeros and poles. With
 * w = 1/Q² and the gain G < 1, (z, p) is (G·w, w/G), (w, w/G²) or (G²·w, w) for the three meanings of Q: in each,
 * attenuation grows with w and with 1/G and falls with u. The bilinear transform bends the frequency axis
 * without changing its order, so the same holds for the cookbook's filters. Matched and nyquist-gain filters
 * have no such form; that it holds for them too is kept by the law in test/laws/box-bounds.test.ts.
 */
export const boxBounds = ({ lattice, f, w, g }: Extent, points: readonly BoundPoints[]): BoxBounds => {
  const strongest = filterAt(lattice, f[0], w[0], g[1]);
  const weakest = filterAt(lattice, f[0], w[1], g[0]);
  const bottomHz = lattice.frequenciesHz[f[0]] as number;
  const topHz = lattice.frequenciesHz[f[1]] as number;
  const takes = (cut: Filter, centreHz: number, atHz: number, realisation: Realisation): number =>
    attenuationDbAt(buildSections({ ...cut, frequencyHz: hz(centreHz) }, realisation), hz(atHz));
  const most = (atHz: number, realisation: Realisation): number =>
    takes(strongest, nearestWithin(atHz, bottomHz, topHz), atHz, realisation);
  return {
    inWindowDb: points.map(({ realisation, windowHz }) => windowHz.map((atHz) => most(atHz, realisation))),
    atRiseDb: points.map(({ realisation, riseHz }) => riseHz.map((atHz) => most(atHz, realisation))),
    atKeepEndDb: points.map(({ realisation, keepHighHz }) =>
      takes(weakest, farthestWithin(keepHighHz, bottomHz, topHz), keepHighHz, realisation),
    ),
  };
};
