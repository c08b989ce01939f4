import { type Bell, bellOf, type SectionPlan } from '../prototype.js';
import { flatSection } from '../section.js';
import { qOfBandwidth } from '../widths.js';
import type { Design } from './design.js';

/**
 * Vicanek, "Matched Second Order Digital Filters", 2016: poles taken over from the analogue filter, zeros
 * chosen so that the magnitude is the analogue one at DC and at the filter's frequency, where that of a bell
 * is also an extremum.
 *
 * It covers the four types the paper gives and the notch, which is its bell of gain 0. For shelves and
 * all-passes the cookbook stands in. First-order cuts, which the paper leaves out, are made by its method.
 */
export const matchedDesign: Design = {
  name: 'matched',
  summary: 'poles and magnitude matched to the analogue prototype (Vicanek 2016)',
  covers: ['lowpass', 'highpass', 'bandpass', 'notch', 'peaking'],
  domain: 'z',
  qOfBandwidth,
  section: (plan, rateHz) => {
    const w0 = (2 * Math.PI * plan.frequencyHz) / rateHz;
    const bell = bellOf(plan);
    if (bell !== null && bell.peak === bell.reference) return flatSection(rateHz);
    const poles = plan.order === 1 ? matchedPole(w0) : matchedPoles(w0, bell?.poleQ ?? plan.q);
    const [b0, b1, b2] = bell === null ? cutNumerator(plan, poles, w0) : bellNumerator(bell, poles, w0);
    return { domain: 'z', rateHz, b0, b1, b2, a0: 1, a1: poles.a1, a2: poles.a2 };
  },
};

/** In z⁻¹, lowest power first. */
type Numerator = readonly [b0: number, b1: number, b2: number];

/**
 * Cuts (equations 31–34 and 36): gain Q at the cut's frequency, which is 1/√2 for a first-order one; and at DC
 * gain 1 or, for a low cut, a zero of the section's order.
 */
const cutNumerator = (plan: SectionPlan, poles: MatchedPoles, w0: number): Numerator => {
  const gain = plan.order === 1 ? Math.SQRT1_2 : plan.q;
  const sine = Math.sin(w0 / 2);
  const cosine = Math.cos(w0 / 2);
  // z·D on the unit circle at ω0 is real + j·imaginary: the paper's A0 φ0 + A1 φ1 + A2 φ2 as two squares.
  const real = poles.atDc - 2 * (1 + poles.a2) * sine * sine;
  const imaginary = 2 * poles.tilt * sine * cosine;
  if (plan.type === 'highpass') {
    const wanted = gain * Math.hypot(real, imaginary);
    return plan.order === 1
      ? [wanted / (2 * sine), -wanted / (2 * sine), 0]
      : [wanted / (4 * sine * sine), -wanted / (2 * sine * sine), wanted / (4 * sine * sine)];
  }
  if (plan.type === 'lowpass') {
    // (R1 − B0 φ0) / φ1 of the paper, its nearly equal terms taken as a difference of squares.
    const level = 2 * gain * poles.tilt * sine;
    const difference = cosine * cosine * (level - poles.atDc) * (level + poles.atDc);
    const B1 = ((gain * real) ** 2 + difference) / (sine * sine);
    const b0 = (poles.atDc + Math.sqrt(Math.max(0, B1))) / 2;
    return [b0, poles.atDc - b0, 0];
  }
  throw new RangeError(`the matched design has no formula for ${plan.type}`);
};

/**
 * Bells and, as limits, notches and bandpasses (equations 29, 37–41 and 44–45). The paper's B1 and B2 are
 * solved for K = peak² and the reference gain; so written, nothing in them cancels.
 */
const bellNumerator = ({ reference, peak }: Bell, poles: MatchedPoles, w0: number): Numerator => {
  const sineSquared = Math.sin(w0 / 2) ** 2;
  const cosineSquared = Math.cos(w0 / 2) ** 2;
  const K = peak * peak;
  const excess = (K - reference * reference) * poles.atDc ** 2;
  const B1 = K * poles.atNyquist ** 2 - excess * (cosineSquared / sineSquared) ** 2;
  const B2 = excess / (4 * sineSquared * sineSquared) - 4 * K * poles.a2;

  const root0 = reference * poles.atDc;
  const root1 = Math.sqrt(Math.max(0, B1));
  const W = (root0 + root1) / 2;
  // A notch has its zeros on the unit circle: then W² + B2 is 0 but for rounding, which would fill it.
  const root2 = peak === 0 ? 0 : Math.sqrt(Math.max(0, W * W + B2));
  const b0 = (W + root2) / 2;
  return [b0, (root0 - root1) / 2, (W - root2) / 2];
};

/**
 * The denominator D = 1 + a1 z⁻¹ + a2 z⁻² of a matched section, with the sums its numerator is made from.
 * Each is worked out on its own: taken from a1 and a2 they would drown in rounding at low frequencies.
 */
interface MatchedPoles {
  readonly a1: number;
  readonly a2: number;
  /** D at DC: 1 + a1 + a2. */
  readonly atDc: number;
  /** D at half the sample rate: 1 − a1 + a2. */
  readonly atNyquist: number;
  /** 1 − a2. */
  readonly tilt: number;
}

/**
 * The poles of an analogue section of quality `poleQ`, taken over by z = e^(s/fs) (Vicanek 2016, equation 12).
 * `w0` is the section's frequency in radians per sample.
 */
const matchedPoles = (w0: number, poleQ: number): MatchedPoles => {
  const damping = 1 / (2 * poleQ);
  const a2 = Math.exp(-2 * damping * w0);
  const tilt = -Math.expm1(-2 * damping * w0);
  if (damping > 1) {
    // Two real poles, one by one: the paper's e^(−q ω0) · cosh(…) would overflow for very wide filters.
    const root = damping + Math.sqrt(damping * damping - 1);
    const slow = Math.exp(-w0 / root);
    const fast = Math.exp(-w0 * root);
    const atDc = Math.expm1(-w0 / root) * Math.expm1(-w0 * root);
    return { a1: -(slow + fast), a2, atDc, atNyquist: (1 + slow) * (1 + fast), tilt };
  }
  const radius = Math.exp(-damping * w0);
  const angle = Math.sqrt(1 - damping * damping) * w0;
  const inset = Math.expm1(-damping * w0) ** 2;
  return {
    a1: -2 * radius * Math.cos(angle),
    a2,
    atDc: inset + 4 * radius * Math.sin(angle / 2) ** 2,
    atNyquist: inset + 4 * radius * Math.cos(angle / 2) ** 2,
    tilt,
  };
};

/** The same for one real pole, that of 1/(s + 1). */
const matchedPole = (w0: number): MatchedPoles => {
  const pole = Math.exp(-w0);
  return { a1: -pole, a2: 0, atDc: -Math.expm1(-w0), atNyquist: 1 + pole, tilt: 1 };
};
