import { assertSameLength, highestHz } from './points.js';
import type { Section } from './section.js';

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
  for (let i = 0; i < out.length; i++) out[i] = principal(out[i] as number);
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
      const frequencyHz = frequenciesHz[i] as number;
      const inside = frequencyHz >= 0 && frequencyHz <= topHz;
      out[i] = inside ? (out[i] as number) + measure(section, frequencyHz) : Number.NaN;
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
