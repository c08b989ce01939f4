import { preEmphasisPower } from '../guard/modulation.js';
import { numberAt } from '../units/at.js';
import type { Hz } from '../units/quantity.js';

const reach = 8;

const factorial = (n: number): number => (n <= 1 ? 1 : n * factorial(n - 1));

/**
 * Weights of the central difference of order 16: dx/dt ≈ rate · Σ weight k · (x[n + k] − x[n − k]), by Taylor's
 * theorem (Fornberg, Math. Comp. 51, 1988, gives the general rule: from memory).
 */
const differenceWeights = Array.from({ length: reach }, (_, i) => {
  const k = i + 1;
  const sign = k % 2 === 1 ? 1 : -1;
  return (sign * factorial(reach) ** 2) / (k * factorial(reach - k) * factorial(reach + k));
});

/**
 * Pre-emphasis 1 + sτ (ITU-R BS.450: the admittance of a parallel RC), amplitude and phase, nothing delayed:
 * x + τ dx/dt with the derivative taken as a difference. At 192 kHz right within 0.0001 dB up to 23 kHz.
 */
export const preEmphasise = (samples: Float64Array, sampleRateHz: Hz, microseconds: number): Float64Array => {
  const scale = microseconds * 1e-6 * sampleRateHz;
  const weights = Float64Array.from(differenceWeights, (weight) => scale * weight);
  // Silence on both sides, so that every sum is whole.
  const padded = new Float64Array(samples.length + 2 * reach);
  padded.set(samples, reach);
  return samples.map((sample, n) => {
    let sum = sample;
    for (let k = 1; k <= reach; k++) {
      const middle = reach + n;
      sum += numberAt(weights, k - 1) * (numberAt(padded, middle + k) - numberAt(padded, middle - k));
    }
    return sum;
  });
};

/** Where the gain of de-emphasis is made right: the upper end of the audio. */
const rightAtHz = 15000;

/**
 * De-emphasis 1 / (1 + sτ): one pole where the RC has it, e^(−1/(rate · τ)), and one zero so placed that the gain is
 * right at 0 Hz and at 15 kHz. At 176.4 kHz and above right within 0.001 dB up to there. A copy where there is no
 * pre-emphasis.
 */
export const deEmphasise = (samples: Float64Array, sampleRateHz: Hz, microseconds: number): Float64Array => {
  if (microseconds === 0) return samples.slice();
  const pole = Math.exp(-1e6 / (microseconds * sampleRateHz));
  // On the unit circle |c0 + c1 z⁻¹|² = (c0 + c1)² − 4 c0 c1 sin²(ω/2); the sum b0 + b1 is the gain 1 at 0 Hz.
  const phi = Math.sin((Math.PI * rightAtHz) / sampleRateHz) ** 2;
  const sum = 1 - pole;
  const wanted = (sum * sum + 4 * pole * phi) / preEmphasisPower(rightAtHz, microseconds);
  const product = (sum * sum - wanted) / (4 * phi);
  const b0 = (sum + Math.sqrt(sum * sum - 4 * product)) / 2;
  const b1 = sum - b0;
  let before = 0;
  let state = 0;
  return samples.map((sample) => {
    state = pole * state + b0 * sample + b1 * before;
    before = sample;
    return state;
  });
};
