import type { Hz } from '../units/quantity.js';

/**
 * A second-order section. First-order ones have b2 = a2 = 0.
 *
 * Digital (`domain: 'z'`): H(z) = (b0 + b1 z⁻¹ + b2 z⁻²) / (a0 + a1 z⁻¹ + a2 z⁻²), a0 = 1, at `rateHz`
 * samples per second.
 * Analogue (`domain: 's'`): H(s) = (b0 + b1 s + b2 s²) / (a0 + a1 s + a2 s²), s = j f / `rateHz`: normalised
 * to the filter's own frequency.
 */
export interface Section {
  readonly domain: 'z' | 's';
  readonly rateHz: Hz;
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a0: number;
  readonly a1: number;
  readonly a2: number;
}

/** The digital section that changes nothing: what a bell of 0 dB is. */
export const flatSection = (rateHz: Hz): Section => ({
  domain: 'z',
  rateHz,
  b0: 1,
  b1: 0,
  b2: 0,
  a0: 1,
  a1: 0,
  a2: 0,
});
