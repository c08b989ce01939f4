import { planSections } from '../../../filters/build.js';
import { designFor } from '../../../filters/designs/registry.js';
import type { Filter } from '../../../filters/filter.js';
import type { DesignName, Realisation } from '../../../filters/realisation.js';
import { itemAt, numberAt } from '../../../units/at.js';
import { hz, type Q, q } from '../../../units/quantity.js';
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

/** The Q, as the cookbook has it, of the one section a bell or notch is made of. */
const cookbookQOf = (cut: Filter, realisation: Realisation): Q => {
  const { design, sampleRateHz } = realisation;
  const [plan] = planSections(cut, realisation, designFor(design, cut.type), sampleRateHz ?? cut.frequencyHz);
  if (plan?.order !== 2) throw new RangeError(`a ${cut.type} is no cut round a pilot`);
  return plan.q;
};

/** The cuts of one width at the corners of a box: the first the shallowest, the last the deepest. */
const cornersAt = ({ lattice, f, g }: Extent, w: number): readonly Filter[] =>
  [...new Set(f)].flatMap((atF) => [...new Set(g)].map((atG) => filterAt(lattice, atF, w, atG)));

/** A cut told by the cookbook's Q. */
const withQ = ({ bandwidthOctaves: _, ...cut }: Filter, cookbookQ: number): Filter => ({
  ...cut,
  q: q(cookbookQ),
});

/** What a realisation makes of a box: no cut inside takes more than the strongest, none less than the weakest. */
const extremesOf = (extent: Extent, realisation: Realisation) => {
  const [wide, narrow] = [cornersAt(extent, extent.w[0]), cornersAt(extent, extent.w[1])];
  const qs = (cuts: readonly Filter[]) => cuts.map((cut) => cookbookQOf(cut, realisation));
  return {
    strongest: withQ(itemAt(wide, wide.length - 1), Math.min(...qs(wide))),
    weakest: withQ(itemAt(narrow, 0), Math.max(...qs(narrow))),
  };
};

/**
 * From which share of half the sample rate on a centre that moves up no longer needs to take less far below it, by
 * design; 1 where it always does.
 */
const turningShare: Readonly<Record<DesignName, number>> = {
  cookbook: 1,
  analogue: 1,
  matched: 0.8,
  'nyquist-gain': 0,
};

/**
 * Bounds over a whole box of bells or notches, for every point of one realisation: in the keep band what each cut inside
 * takes at least, elsewhere what none exceeds. Nothing takes more at a point than the box's widest, deepest cut would
 * with its centre as near as the box reaches, and nothing takes less than its narrowest, shallowest one at the farther
 * end.
 *
 * For this it is enough that what a cut takes at a point grows with its width and with its depth, and falls as its
 * centre moves away. A bell or notch is |H|² = (u + z) / (u + p), where u = (x − 1/x)² tells how far the frequency
 * lies from the centre, and z ≤ p are the inverse squares of the Qs of its zeros and poles. Told by the cookbook's Q
 * they are G/Q² and 1/(G Q²), for a notch 0 and 1/Q²: attenuation grows with 1/Q and with 1/G and falls with u. The
 * bilinear transform bends the frequency axis without changing its order, so the same holds for the cookbook's filters.
 *
 * So widths are compared by the cookbook's Q, whatever the knob means. That Q may hang on the gain and, for a
 * bandwidth, on the frequency too (near half the sample rate the cookbook's digital bandwidth widens without bound);
 * but with each of them it rises or falls all the way, so that its extremes are found at corners of the box.
 *
 * Matched and nyquist-gain filters have no such form. With width and depth they behave alike, but as their centre nears
 * half the sample rate what they take far below it turns and grows again, by some tenths of a dB: matched ones from
 * 0.809 of it on, nyquist-gain ones anywhere. There the frequencies inside the box are looked at too. That all this is
 * enough is kept by test/laws/box-bounds.test.ts.
 */
export const bellBounds: Bounds = (extent, points) => {
  const { realisation, frequenciesHz } = points;
  const { strongest, weakest } = extremesOf(extent, realisation);
  const read: Points = {
    ...points,
    realisation: { ...realisation, qMeaning: 'cookbook' },
  };
  const share = turningShare[designFor(realisation.design, strongest.type).name];
  const centres = centresOf(extent, (share * (realisation.sampleRateHz ?? Infinity)) / 2);
  const bounds = noBounds(points);
  for (const centreHz of centres.hz) widen(bounds, [strongest], [weakest], centreHz, read);
  const [bottomHz, topHz] = endsOf(centres);
  // A point between the box's ends may be the centre of a cut.
  frequenciesHz.forEach((atHz, i) => {
    if (isKept(points, i) || atHz <= bottomHz || atHz >= topHz) return;
    bounds[i] = Math.max(numberAt(bounds, i), takenAt({ ...strongest, frequencyHz: hz(atHz) }, atHz, read));
  });
  loosen(bounds, centres.looseDb, points);
  return bounds;
};
