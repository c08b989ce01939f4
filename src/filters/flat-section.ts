import type { Hz } from '../units/quantity.js';
import type { Section } from './section.js';

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
