import type { Hz } from '../units/quantity.js';

/** Two channels of audio of equal length; 1 is full scale. */
export interface Stereo {
  readonly sampleRateHz: Hz;
  readonly left: Float64Array;
  readonly right: Float64Array;
}

/** The composite signal; 1 is full deviation. */
export interface Composite {
  readonly sampleRateHz: Hz;
  readonly samples: Float64Array;
}

/** The greatest distance from zero of any sample of either channel. */
export const highestSample = (left: Float64Array, right: Float64Array): number =>
  [left, right].reduce((most, channel) => channel.reduce((a, b) => Math.max(a, Math.abs(b)), most), 0);
