import { magnitudeSquared } from '../filters/response.js';
import type { Section } from '../filters/section.js';
import { integrate } from './integrate.js';
import { preEmphasisPower } from './pre-emphasis.js';
import type { PinkProgramme } from './programme.js';

/** A stretch of the spectrum, in hertz. */
export interface Band {
  readonly fromHz: number;
  readonly toHz: number;
}

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
  // In ln f pink noise is flat.
  const power = integrate(
    (logarithms) => {
      // exp(ln f) may come out above f by its last bit, and a digital chain has no response there.
      const frequenciesHz = logarithms.map((logarithm) => Math.min(Math.exp(logarithm), to));
      const gains = new Float64Array(frequenciesHz.length);
      magnitudeSquared(chain, frequenciesHz, gains);
      return gains.map((gain, i) => gain * preEmphasisPower(frequenciesHz[i] ?? 0, preEmphasisMicroseconds));
    },
    Math.log(from),
    Math.log(to),
  );
  return power / Math.log(highHz / lowHz);
};
