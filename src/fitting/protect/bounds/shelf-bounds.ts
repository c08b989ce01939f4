import type { Filter } from '../../../filters/filter.js';
import { cookbookA } from '../../../filters/prototype.js';
import { filterAt } from '../space/lattice.js';
import { type Bounds, type Extent, loosen, noBounds, widen } from './extent.js';

/** The filters of a box at its lowest frequency: the widest and the narrowest at one gain. */
const atGain = ({ lattice, f, w }: Extent, g: number): readonly Filter[] =>
  [...new Set(w)].map((atW) => filterAt(lattice, f[0], atW, g));

/**
 * How far a shelf rises above 0 dB before it falls, and dips below its gain behind: none up to a Q of 1/√2. With
 * y = (f/f0)², |H|² = A² (A²y² + m y + 1) / (y² + m y + A²), m = A (1/Q² − 2), and its extremes lie where
 * m y² + 2 (1 + A²) y + m = 0.
 */
const humpDb = ({
  q = Math.SQRT1_2,
  gainDb = 0,
}: {
  readonly q?: number;
  readonly gainDb?: number;
}): number => {
  const A = cookbookA(gainDb);
  const m = A * (1 / (q * q) - 2);
  if (m >= 0) return 0;
  const half = 1 + A * A;
  const y = (half - Math.sqrt(half * half - m * m)) / -m;
  return 10 * Math.log10((A * A * (A * A * y * y + m * y + 1)) / (y * y + m * y + A * A));
};

/**
 * Bounds over a box of high shelves that cut, which every design makes as the cookbook's prototype or its bilinear
 * transform. With y and m as above, a shelf of Q 1/√2 or less takes the more at any point the lower it sits and the
 * deeper it is; which of two Qs takes more changes at its own frequency, so both ends are looked at. Those of a higher Q
 * stray from that by no more than their hump, counted twice. Kept by test/laws/box-bounds.test.ts.
 */
export const shelfBounds: Bounds = (extent, points) => {
  const { lattice, f, g } = extent;
  const [shallowest, deepest] = [atGain(extent, g[0]), atGain(extent, g[1])];
  const bounds = noBounds(points);
  for (const index of new Set(f)) {
    widen(bounds, deepest, shallowest, lattice.frequency.valueAt(index), points);
  }
  loosen(bounds, 2 * Math.max(...deepest.map(humpDb)), points);
  return bounds;
};
