import type { Band } from '../filters/extremes.js';
import { magnitudeSquared } from '../filters/response.js';
import type { Section } from '../filters/section.js';
import { numberAt } from '../units/at.js';
import { preEmphasisPower } from './modulation.js';
import type { PinkProgramme } from './programme.js';

/**
 * The mean square that pink noise has in a band after a chain of filters and pre-emphasis, over its whole mean
 * square before them: ∫ (1 + (2πfτ)²) |H|² df / f over the band, by ln(high / low). Nothing comes from
 * outside the noise's own limits or from above half the sample rate of a digital chain. 0 where nothing is left.
 */
export const pinkShare = (
  { lowHz, highHz }: Pick<PinkProgramme, 'lowHz' | 'highHz'>,
  { fromHz, toHz }: Band,
  chain: readonly Section[],
  preEmphasisMicroseconds: number,
): number => {
  const halfRatesHz = chain.filter(({ domain }) => domain === 'z').map(({ rateHz }) => rateHz / 2);
  const from = Math.max(fromHz, lowHz);
  const to = Math.min(toHz, highHz, ...halfRatesHz);
  if (!(from < to)) return 0;
  const whole = Math.log(highHz / lowHz);
  // ∫ (1 + (2πfτ)²) df / f in closed form.
  if (chain.length === 0) {
    const rise =
      preEmphasisPower(to, preEmphasisMicroseconds) - preEmphasisPower(from, preEmphasisMicroseconds);
    return (Math.log(to / from) + rise / 2) / whole;
  }
  // In ln f pink noise is flat.
  const power = integrate(
    (logarithms) => {
      // exp(ln f) may come out above f by its last bit, and a digital chain has no response there.
      const frequenciesHz = logarithms.map((logarithm) => Math.min(Math.exp(logarithm), to));
      const gains = new Float64Array(frequenciesHz.length);
      magnitudeSquared(chain, frequenciesHz, gains);
      return gains.map(
        (gain, i) => gain * preEmphasisPower(numberAt(frequenciesHz, i), preEmphasisMicroseconds),
      );
    },
    Math.log(from),
    Math.log(to),
  );
  return power / whole;
};

const firstIntervals = 128;
const mostIntervals = 2 ** 17;
const agreement = 1e-10;

/**
 * ∫ f(x) dx from one end to the other by Simpson's rule, halving the spacing until two results in a row agree to
 * ten digits. The integrand takes many places at once.
 *
 * For positive integrands that may hold narrow dips or peaks: a window of ±100 Hz is seen at every 0.4 Hz at least
 * and at most at every 1.5 mHz. A notch so narrow that those looks miss it takes next to nothing out
 * of the integral, so missing it is no error worth telling.
 */
export const integrate = (
  integrand: (places: Float64Array) => Float64Array,
  from: number,
  to: number,
): number => {
  const total = (first: number, spacing: number, count: number): number => {
    const places = new Float64Array(count);
    for (let i = 0; i < count; i++) places[i] = first + i * spacing;
    return integrand(places).reduce((a, b) => a + b, 0);
  };

  const ends = integrand(Float64Array.of(from, to));
  let spacing = (to - from) / firstIntervals;
  let trapezoid =
    spacing *
    (total(from + spacing, spacing, firstIntervals - 1) + (numberAt(ends, 0) + numberAt(ends, 1)) / 2);
  let simpson = Number.NaN;
  for (let intervals = firstIntervals; intervals < mostIntervals; intervals *= 2) {
    const finer = (trapezoid + spacing * total(from + spacing / 2, spacing, intervals)) / 2;
    const next = (4 * finer - trapezoid) / 3;
    if (Math.abs(next - simpson) <= agreement * Math.abs(next)) return next;
    simpson = next;
    trapezoid = finer;
    spacing /= 2;
  }
  return simpson;
};
