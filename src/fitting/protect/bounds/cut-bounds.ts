import { designFor } from '../../../filters/designs/registry.js';
import type { Filter } from '../../../filters/filter.js';
import type { DesignName } from '../../../filters/realisation.js';
import { itemAt, numberAt } from '../../../units/at.js';
import { hz } from '../../../units/quantity.js';
import { filterAt } from '../space/lattice.js';
import type { Points } from '../space/points.js';
import {
  type Bounds,
  centresOf,
  type Extent,
  endsOf,
  isKept,
  loosen,
  noBounds,
  takenAt,
  widen,
} from './extent.js';

/** The cuts of a box at its lowest frequency: every slope there is, or the lowest and the highest Q. */
const widthsOf = ({ lattice, f, w, g }: Extent): readonly Filter[] => {
  const isSloped = lattice.slotType.grids.slope !== undefined;
  const indices = isSloped ? Array.from({ length: w[1] - w[0] + 1 }, (_, i) => w[0] + i) : [...new Set(w)];
  return indices.map((index) => filterAt(lattice, f[0], index, g[0]));
};

/**
 * Where a cut of this Q must sit to take the least at a frequency: |H|⁻² = (1 − x²)² + x²/Q² is least at
 * x² = 1 − 1/(2Q²). Of a digital cut x is the ratio of tan(π f / fs). Null for a Q that makes no hump.
 */
const humpHz = ({ q }: Filter, atHz: number, { realisation: { sampleRateHz } }: Points): number | null => {
  const square = q === undefined ? 0 : 1 - 1 / (2 * q * q);
  if (!(square > 0)) return null;
  if (sampleRateHz === null) return atHz / Math.sqrt(square);
  return (sampleRateHz / Math.PI) * Math.atan(Math.tan((Math.PI * atHz) / sampleRateHz) / Math.sqrt(square));
};

/** Whether a design's high cuts have the form the bounds rest on, to the last bit. */
const hasThatForm: Readonly<Record<DesignName, boolean>> = {
  cookbook: true,
  analogue: true,
  'nyquist-gain': true,
  matched: false,
};

/**
 * Bounds over a box of high cuts. A cut takes the more at any point the lower it sits, and the more the lower its Q:
 * |H|⁻² is 1 + x^2N for a Butterworth of order N, the square of that of order N/2 for a Linkwitz-Riley, and
 * (1 − x²)² + x²/Q² for a single section, x = f/fc; the bilinear transform keeps the order of frequencies. Which of two
 * slopes takes more hangs on the side of the cut a point lies on, so every slope is looked at. Only a Q above 1/√2 makes
 * a hump, where a cut takes less than at either end; there its highest Q is looked at by itself.
 *
 * Matched cuts only come near that form, so the frequencies inside the box are looked at too. That all this is enough is
 * kept by test/laws/box-bounds.test.ts.
 */
export const cutBounds: Bounds = (extent, points) => {
  const { realisation, frequenciesHz } = points;
  const cuts = widthsOf(extent);
  const isExact = hasThatForm[designFor(realisation.design, 'lowpass').name];
  const centres = centresOf(extent, isExact ? Number.POSITIVE_INFINITY : 0);
  const bounds = noBounds(points);
  for (const centreHz of centres.hz) widen(bounds, cuts, cuts, centreHz, points);
  const sharpest = itemAt(cuts, cuts.length - 1);
  const [bottomHz, topHz] = endsOf(centres);
  frequenciesHz.forEach((atHz, i) => {
    if (!isKept(points, i)) return;
    const centreHz = humpHz(sharpest, atHz, points);
    if (centreHz === null || centreHz <= bottomHz || centreHz >= topHz) return;
    bounds[i] = Math.min(
      numberAt(bounds, i),
      takenAt({ ...sharpest, frequencyHz: hz(centreHz) }, atHz, points),
    );
  });
  const resonance = Math.max(1, sharpest.q ?? 0);
  loosen(bounds, centres.looseDb * resonance * resonance, points);
  return bounds;
};
