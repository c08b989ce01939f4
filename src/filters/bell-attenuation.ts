import { type Bell, bellOf } from './bell.js';
import { designFor } from './designs/registry.js';
import type { Filter } from './filter.js';
import { planSections } from './plan.js';
import type { Realisation } from './realisation.js';

/**
 * Bells and notches in closed form, for searching: |H|² = (u + z) / (u + p), where u says how far a frequency
 * lies from the centre, z and p are the inverse squares of the Qs of zeros and poles (see `Bell`). Exact for
 * the designs that only bend the frequency axis, the analogue prototype and its bilinear transform.
 *
 * For a cut z ≤ p, so attenuation falls as u grows. It rises as the bell gets deeper or wider, whatever the
 * meaning of Q: with width w = 1/Q² and gain G < 1, (z, p) is (G·w, w/G) for `cookbook`, (w, w/G²) for
 * `classic` and (G²·w, w) for `constant-bandwidth`; in each p/z = 1/G² grows with depth and (u + p) / (u + z)
 * grows with w, and neither a deeper cut's p nor its −z ever falls.
 */
export const hasClosedForm = ({ design }: Realisation): boolean =>
  design === 'cookbook' || design === 'analogue';

/** u of the formula: (x − 1/x)², x the ratio of the two frequencies, after the bend of the bilinear transform. */
export const distanceFromCentre = (
  atHz: number,
  centreHz: number,
  { design, sampleRateHz }: Realisation,
): number => {
  const ratio =
    design === 'analogue' || sampleRateHz === null
      ? atHz / centreHz
      : Math.tan((Math.PI * atHz) / sampleRateHz) / Math.tan((Math.PI * centreHz) / sampleRateHz);
  return (ratio - 1 / ratio) ** 2;
};

/** The bell or notch a realisation makes of a filter. Throws RangeError for other types. */
export const realisedBell = (filter: Filter, realisation: Realisation): Bell => {
  const design = designFor(realisation.design, filter.type);
  const [plan] = planSections(
    filter,
    realisation.qMeaning,
    design,
    realisation.sampleRateHz ?? filter.frequencyHz,
  );
  const bell = plan && bellOf(plan);
  if (!bell) throw new RangeError(`a ${filter.type} filter is no bell`);
  return bell;
};

/** Nothing is taken to be deeper: a notch's own frequency would be without end. */
const deepestDb = 200;

/** What a bell takes at a distance from its centre, in dB. */
export const bellAttenuationDb = ({ reference, peak, poleQ }: Bell, distance: number): number => {
  const pole = 1 / (poleQ * poleQ);
  const power = (reference * reference * distance + peak * peak * pole) / (distance + pole);
  return Math.min(deepestDb, -10 * Math.log10(power));
};
