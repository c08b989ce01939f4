/**
 * The denominator D = 1 + a1 z⁻¹ + a2 z⁻² of a matched section, with the sums its numerator is made from.
 * Each is worked out on its own: taken from a1 and a2 they would drown in rounding at low frequencies.
 */
export interface MatchedPoles {
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
export const matchedPoles = (w0: number, poleQ: number): MatchedPoles => {
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
export const matchedPole = (w0: number): MatchedPoles => {
  const pole = Math.exp(-w0);
  return { a1: -pole, a2: 0, atDc: -Math.expm1(-w0), atNyquist: 1 + pole, tilt: 1 };
};
