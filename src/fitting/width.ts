import type { Filter } from '../filters/filter.js';
import { bandwidthOfQ, qOfBandwidth, qOfShelfSlope } from '../filters/widths.js';
import type { Octaves, Q } from '../units/quantity.js';
import { db, dbPerOctave, q } from '../units/quantity.js';

/** The Q of a second-order Butterworth section, 1/√2: what a cut of 12 dB per octave is. */
const butterworthQ = q(Math.SQRT1_2);

/**
 * A filter's width as a Q, whichever way it was told; undefined where it has none to tell. Bandwidths are
 * turned by the analogue relation, which is free of any sample rate. A cut told by its slope is taken for a
 * second-order section: 1/√2, or 1/2 for a Linkwitz-Riley one.
 */
export const widthAsQ = (filter: Filter): Q | undefined => {
  if (filter.q !== undefined) return filter.q;
  if (filter.bandwidthOctaves !== undefined) return qOfBandwidth(filter.bandwidthOctaves);
  if (filter.shelfSlope !== undefined) return qOfShelfSlope(filter.shelfSlope, filter.gainDb ?? db(0));
  if (filter.slopeDbPerOctave !== undefined) {
    return filter.family === 'linkwitz-riley' ? q(0.5) : butterworthQ;
  }
  if (filter.type === 'lowshelf' || filter.type === 'highshelf')
    return qOfShelfSlope(1, filter.gainDb ?? db(0));
  return undefined;
};

/** A filter's width as a bandwidth in octaves. */
export const widthAsBandwidth = (filter: Filter): Octaves | undefined => {
  if (filter.bandwidthOctaves !== undefined) return filter.bandwidthOctaves;
  const asQ = widthAsQ(filter);
  return asQ === undefined ? undefined : bandwidthOfQ(asQ);
};

/** The slope of a cut: a cut told by its Q is a second-order section, 12 dB per octave. */
export const widthAsSlope = (filter: Filter) =>
  filter.slopeDbPerOctave ?? (filter.q === undefined ? undefined : dbPerOctave(12));
