import { filterTypes } from '../filter.js';
import { prototypeOf } from '../prototype.js';
import { qOfBandwidth } from '../widths.js';
import type { Design } from './design.js';

/**
 * The analogue prototypes themselves: the curve a filter is meant to have, and what desks come near that
 * run at a high sample rate or are analogue. Source: the H(s) of the W3C Audio EQ Cookbook.
 */
export const analogueDesign: Design = {
  name: 'analogue',
  summary: 'the analogue prototype itself',
  covers: filterTypes,
  domain: 's',
  qOfBandwidth,
  section: (plan, rateHz) => ({ domain: 's', rateHz, ...prototypeOf(plan) }),
};
