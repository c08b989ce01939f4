/* The response of a chain of sections: frequencies in, one number per frequency out. */
import { numberAt } from '../units/at.js';
import { type Db, db, type Hz } from '../units/quantity.js';
import type { Section } from './section.js';

/** Two frequencies this near, as a ratio, are one: the rounding of 2^x. */
const rounding = 1e-12;

/**
 * Frequencies evenly spaced by ratio: from the lower end upwards at 1/perOctave octave, and the upper end
 * itself, whether or not it falls on a step. Rising, each once, in hertz.
 *
 * Throws RangeError unless 0 < fromHz ≤ toHz and perOctave is above 0.
 */
export const logFrequencies = (fromHz: Hz, toHz: Hz, perOctave: number): Float64Array => {
  if (!(fromHz > 0 && toHz >= fromHz && toHz < Infinity && perOctave > 0 && perOctave < Infinity)) {
    throw new RangeError(`no frequencies from ${fromHz} to ${toHz} Hz at ${perOctave} per octave`);
  }
  const stepsBelowEnd = Math.ceil(perOctave * Math.log2((toHz / fromHz) * (1 - rounding)));
  const frequenciesHz = new Float64Array(Math.max(0, stepsBelowEnd) + 1);
  for (let i = 0; i < stepsBelowEnd; i++) frequenciesHz[i] = fromHz * Math.exp((i / perOctave) * Math.LN2);
  frequenciesHz[frequenciesHz.length - 1] = toHz;
  return frequenciesHz;
};

/** Throws RangeError unless there is room for exactly one value per frequency. */
const assertSameLength = (frequenciesHz: Float64Array, out: Float64Array): void => {
  if (frequenciesHz.length !== out.length) {
    throw new RangeError(`${frequenciesHz.length} frequencies need as many places, not ${out.length}`);
  }
};

/**
 * The highest frequency at which a section has a response: half its sample rate for a digital one, none for
 * an analogue one. Beyond it, and below 0 Hz, a response is NaN, as W3C Web Audio API 1.1 has it for
 * `getFrequencyResponse`.
 */
export const highestHz = ({ domain, rateHz }: Section): number => (domain === 'z' ? rateHz / 2 : Infinity);

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
    out[i] = Math.max(magnitudeFloorDb, 10 * Math.log10(numberAt(out, i)));
  }
};

/** How much a chain takes away at one frequency: −20 log10 |H|, at most 200 dB; negative where it raises. */
export const attenuationDbAt = (sections: readonly Section[], frequencyHz: Hz): Db => {
  const out = new Float64Array(1);
  magnitudeDb(sections, Float64Array.of(frequencyHz), out);
  return db(0 - numberAt(out, 0));
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
    const frequencyHz = numberAt(frequenciesHz, i);
    const sine = Math.sin((Math.PI * frequencyHz) / rateHz);
    const phi = sine * sine;
    const spread = phi * (1 - phi);
    const bReal = bSum - bEnds * phi;
    const aReal = aSum - aEnds * phi;
    const gain = (bReal * bReal + bTilt * spread) / (aReal * aReal + aTilt * spread);
    out[i] = frequencyHz >= 0 && frequencyHz <= topHz ? numberAt(out, i) * gain : Number.NaN;
  }
};

const multiplyAnalogue = (section: Section, frequenciesHz: Float64Array, out: Float64Array): void => {
  const { b0, b1, b2, a0, a1, a2, rateHz } = section;
  for (let i = 0; i < out.length; i++) {
    const x = numberAt(frequenciesHz, i) / rateHz;
    const gain = ((b0 - b2 * x * x) ** 2 + (b1 * x) ** 2) / ((a0 - a2 * x * x) ** 2 + (a1 * x) ** 2);
    out[i] = x >= 0 ? numberAt(out, i) * gain : Number.NaN;
  }
};

/**
 * The phase of a chain of sections at each frequency, in radians within (−π, π], written to `out`. Where the
 * chain lets nothing through (a notch's own frequency) a phase means nothing; the value there is arbitrary.
 *
 * NaN below 0 Hz and above half the sample rate of any digital section. Throws RangeError for arrays of
 * unequal length.
 */
export const phaseRadians = (
  sections: readonly Section[],
  frequenciesHz: Float64Array,
  out: Float64Array,
): void => {
  addUp(sections, frequenciesHz, out, phaseOf);
  for (let i = 0; i < out.length; i++) out[i] = principal(numberAt(out, i));
};

/**
 * The group delay of a chain of sections, −dφ/dω, in seconds, written to `out`. The jumps of the phase at
 * zeros on the frequency axis are no delay and left out. NaN and errors as `phaseRadians`.
 */
export const groupDelaySeconds = (
  sections: readonly Section[],
  frequenciesHz: Float64Array,
  out: Float64Array,
): void => addUp(sections, frequenciesHz, out, delayOf);

type Measure = (section: Section, frequencyHz: number) => number;

const addUp = (
  sections: readonly Section[],
  frequenciesHz: Float64Array,
  out: Float64Array,
  measure: Measure,
): void => {
  assertSameLength(frequenciesHz, out);
  out.fill(0);
  for (const section of sections) {
    const topHz = highestHz(section);
    for (let i = 0; i < out.length; i++) {
      const frequencyHz = numberAt(frequenciesHz, i);
      const inside = frequencyHz >= 0 && frequencyHz <= topHz;
      out[i] = inside ? numberAt(out, i) + measure(section, frequencyHz) : Number.NaN;
    }
  }
};

/** An angle brought into (−π, π]. */
const principal = (angle: number): number => {
  const turned = angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
  return turned <= -Math.PI ? turned + 2 * Math.PI : turned;
};

const phaseOf: Measure = ({ domain, rateHz, b0, b1, b2, a0, a1, a2 }, frequencyHz) => {
  if (domain === 's') {
    const x = frequencyHz / rateHz;
    return Math.atan2(b1 * x, b0 - b2 * x * x) - Math.atan2(a1 * x, a0 - a2 * x * x);
  }
  // Both polynomials times z, which cancels: see magnitude.ts for the form.
  const half = (Math.PI * frequencyHz) / rateHz;
  const phi = Math.sin(half) ** 2;
  const sine = Math.sin(2 * half);
  return (
    Math.atan2((b0 - b2) * sine, b0 + b1 + b2 - 2 * (b0 + b2) * phi) -
    Math.atan2((a0 - a2) * sine, a0 + a1 + a2 - 2 * (a0 + a2) * phi)
  );
};

const delayOf: Measure = ({ domain, rateHz, b0, b1, b2, a0, a1, a2 }, frequencyHz) => {
  if (domain === 's') {
    const x = frequencyHz / rateHz;
    return (analogueSlope(a0, a1, a2, x) - analogueSlope(b0, b1, b2, x)) / (2 * Math.PI * rateHz);
  }
  const phi = Math.sin((Math.PI * frequencyHz) / rateHz) ** 2;
  return (digitalSlope(a0, a1, a2, phi) - digitalSlope(b0, b1, b2, phi)) / rateHz;
};

/** d arg(c0 + c1 s + c2 s²) / dx at s = jx. */
const analogueSlope = (c0: number, c1: number, c2: number, x: number): number => {
  const power = (c0 - c2 * x * x) ** 2 + (c1 * x) ** 2;
  if (power === 0) return c1 === 0 ? 0 : c2 / c1;
  return (c1 * (c0 + c2 * x * x)) / power;
};

/** d arg(z (c0 + c1 z⁻¹ + c2 z⁻²)) / dω on the unit circle, with phi = sin²(ω/2). */
const digitalSlope = (c0: number, c1: number, c2: number, phi: number): number => {
  const [sum, ends, tilt] = [c0 + c1 + c2, c0 + c2, c0 - c2];
  const power = (sum - 2 * ends * phi) ** 2 + 4 * tilt * tilt * phi * (1 - phi);
  // At a zero on the circle: that of a first-order factor at DC or Nyquist, else a pair, which turns nothing.
  if (power === 0) return tilt === 0 ? 0 : ends / (2 * tilt);
  return (tilt * (sum - 2 * c1 * phi)) / power;
};
