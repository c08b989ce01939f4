import { type Db, db, type Hz } from '../units/quantity.js';
import { assertSameLength, highestHz } from './points.js';
import type { Section } from './section.js';

/** What `magnitudeDb` gives for anything lower, a notch's own frequency included: −200 dB. */
export const magnitudeFloorDb = db(-200);

/**
 * |H|² of a chain of sections at each frequency, written to `out`. No sections are a wire: 1 everywhere.
 *
 * NaN below 0 Hz and above half the sample rate of any digital section. Throws RangeError for arrays of
 * unequal length.
 */
export const magnitudeSquared = (
  sections: readonly Section[],
  frequenciesHz: Float64Array,
  out: Float64Array,
): void => {
  assertSameLength(frequenciesHz, out);
  out.fill(1);
  for (const section of sections) {
    if (section.domain === 'z') multiplyDigital(section, frequenciesHz, out);
    else multiplyAnalogue(section, frequenciesHz, out);
  }
};

/** 20 log10 |H| of a chain of sections, never below `magnitudeFloorDb`; else as `magnitudeSquared`. */
export const magnitudeDb = (
  sections: readonly Section[],
  frequenciesHz: Float64Array,
  out: Float64Array,
): void => {
  magnitudeSquared(sections, frequenciesHz, out);
  for (let i = 0; i < out.length; i++) {
    out[i] = Math.max(magnitudeFloorDb, 10 * Math.log10(out[i] as number));
  }
};

/** How much a chain takes away at one frequency: −20 log10 |H|, at most 200 dB; negative where it boosts. */
export const attenuationDbAt = (sections: readonly Section[], frequencyHz: Hz): Db => {
  const out = new Float64Array(1);
  magnitudeDb(sections, Float64Array.of(frequencyHz), out);
  return db(0 - (out[0] as number));
};

/**
 * On the unit circle z·(c0 + c1 z⁻¹ + c2 z⁻²) is the complex number
 * (c0 + c1 + c2) − 2 (c0 + c2) sin²(ω/2) + j (c0 − c2) sin ω.
 * Two squares are summed, never subtracted, so that nothing drowns in rounding: not a low cut at 20 Hz and a
 * high sample rate, where c0 + c1 + c2 is minute, and not the bottom of a notch, where all of it is.
 */
const multiplyDigital = (section: Section, frequenciesHz: Float64Array, out: Float64Array): void => {
  const { b0, b1, b2, a0, a1, a2, rateHz } = section;
  const topHz = highestHz(section);
  const [bSum, bEnds, bTilt] = [b0 + b1 + b2, 2 * (b0 + b2), 4 * (b0 - b2) ** 2];
  const [aSum, aEnds, aTilt] = [a0 + a1 + a2, 2 * (a0 + a2), 4 * (a0 - a2) ** 2];
  for (let i = 0; i < out.length; i++) {
    const frequencyHz = frequenciesHz[i] as number;
    const sine = Math.sin((Math.PI * frequencyHz) / rateHz);
    const phi = sine * sine;
    const spread = phi * (1 - phi);
    const bReal = bSum - bEnds * phi;
    const aReal = aSum - aEnds * phi;
    const gain = (bReal * bReal + bTilt * spread) / (aReal * aReal + aTilt * spread);
    out[i] = frequencyHz >= 0 && frequencyHz <= topHz ? (out[i] as number) * gain : Number.NaN;
  }
};

const multiplyAnalogue = (section: Section, frequenciesHz: Float64Array, out: Float64Array): void => {
  const { b0, b1, b2, a0, a1, a2, rateHz } = section;
  for (let i = 0; i < out.length; i++) {
    const x = (frequenciesHz[i] as number) / rateHz;
    const gain = ((b0 - b2 * x * x) ** 2 + (b1 * x) ** 2) / ((a0 - a2 * x * x) ** 2 + (a1 * x) ** 2);
    out[i] = x >= 0 ? (out[i] as number) * gain : Number.NaN;
  }
};
