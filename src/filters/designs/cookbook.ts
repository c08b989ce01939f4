import type { Hz } from '../../units/quantity.js';
import { filterTypes } from '../filter.js';
import { type Prototype, prototypeOf } from '../prototype.js';
import type { Section } from '../section.js';
import { qOfDigitalBandwidth } from '../widths.js';
import type { Design } from './design.js';

/**
 * The W3C Audio EQ Cookbook: each prototype through the bilinear transform, pre-warped to keep its
 * frequency. Its printed coefficients are what that transform yields; bandpass is the one with a 0 dB peak, as
 * in the W3C Web Audio API. A bandwidth in octaves is read by the cookbook's own digital formula.
 */
export const cookbookDesign: Design = {
  name: 'cookbook',
  summary: 'bilinear transform with pre-warping (W3C Audio EQ Cookbook)',
  covers: filterTypes,
  domain: 'z',
  qOfBandwidth: qOfDigitalBandwidth,
  section: (plan, rateHz) => bilinear(prototypeOf(plan), plan.order, plan.frequencyHz, rateHz),
};

/**
 * The bilinear transform with frequency pre-warping: s ← (1 / tan(ω0/2)) · (1 − z⁻¹) / (1 + z⁻¹), which
 * puts the prototype's s = j exactly at `frequencyHz`. The whole analogue axis is squeezed below half the
 * sample rate, so what lies near there becomes narrower than the prototype.
 *
 * Source: W3C Audio EQ Cookbook (Note of 8 June 2021), "the bilinear transform … with compensation for
 * frequency warping".
 */
export const bilinear = (prototype: Prototype, order: 1 | 2, frequencyHz: Hz, sampleRateHz: Hz): Section => {
  const warp = Math.tan((Math.PI * frequencyHz) / sampleRateHz);
  const transform = order === 1 ? firstOrder : secondOrder;
  const [b0, b1, b2] = transform(prototype.b0, prototype.b1, prototype.b2, warp);
  const [a0, a1, a2] = transform(prototype.a0, prototype.a1, prototype.a2, warp);
  return {
    domain: 'z',
    rateHz: sampleRateHz,
    b0: b0 / a0,
    b1: b1 / a0,
    b2: b2 / a0,
    a0: 1,
    a1: a1 / a0,
    a2: a2 / a0,
  };
};

/** A polynomial in z⁻¹, lowest power first. */
type Polynomial = readonly [number, number, number];

/** c0 + c1 s, times warp · (1 + z⁻¹). */
const firstOrder = (c0: number, c1: number, _c2: number, warp: number): Polynomial => [
  c0 * warp + c1,
  c0 * warp - c1,
  0,
];

/** c0 + c1 s + c2 s², times (warp · (1 + z⁻¹))². */
const secondOrder = (c0: number, c1: number, c2: number, warp: number): Polynomial => {
  const ends = c0 * warp * warp + c2;
  return [ends + c1 * warp, 2 * (c0 * warp * warp - c2), ends - c1 * warp];
};
