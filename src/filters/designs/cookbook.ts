import { bilinear } from '../bilinear.js';
import { filterTypes } from '../filter.js';
import { prototypeOf } from '../prototype.js';
import { qOfDigitalBandwidth } from '../widths.js';
import type { Design } from './design.js';

/**
 * The W3C Audio EQ Cookbook: each prototype through the bilinear transform, pre-warped to keep its
 * frequency. Its printed coefficients are what that transform yields; bandpass is the one with a 0 dB peak, as
 * in the W3C Web Audio API. A bandwidth in octaves is read by the cookbook's own digital formula.
 */
export const cookbook: Design = {
  name: 'cookbook',
  summary: 'bilinear transform with pre-warping (W3C Audio EQ Cookbook)',
  covers: filterTypes,
  domain: 'z',
  qOfBandwidth: qOfDigitalBandwidth,
  section: (plan, rateHz) => bilinear(prototypeOf(plan), plan.order, plan.frequencyHz, rateHz),
};
