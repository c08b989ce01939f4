import type { FilterType } from '../../../filters/filter.js';
import { attenuationsOf, type PerPoint, type Points } from '../space/points.js';
import { bellBounds } from './bell-bounds.js';
import { cutBounds } from './cut-bounds.js';
import { type Bounds, type Extent, isSingle, singleFilter } from './extent.js';
import { shelfBounds } from './shelf-bounds.js';

const boundsOf: Readonly<Partial<Record<FilterType, Bounds>>> = {
  peaking: bellBounds,
  notch: bellBounds,
  lowpass: cutBounds,
  highshelf: shelfBounds,
};

/**
 * Bounds over all filters of an extent, for every point of each realisation: in the keep band what each of them takes at
 * least, elsewhere what none exceeds. Of a single filter they are what it takes.
 */
export const boxBounds = (extent: Extent, points: readonly Points[]): PerPoint => {
  if (isSingle(extent)) return attenuationsOf([singleFilter(extent)], points);
  const bounds = boundsOf[extent.lattice.slotType.type];
  if (!bounds)
    throw new RangeError(`no bounds are known for a box of ${extent.lattice.slotType.type} filters`);
  return points.map((each) => bounds(extent, each));
};
