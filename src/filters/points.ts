import type { Section } from './section.js';

/** Throws RangeError unless there is room for exactly one value per frequency. */
export const assertSameLength = (frequenciesHz: Float64Array, out: Float64Array): void => {
  if (frequenciesHz.length !== out.length) {
    throw new RangeError(`${frequenciesHz.length} frequencies need as many places, not ${out.length}`);
  }
};

/**
 * The highest frequency at which a section has a response: half its sample rate for a digital one, none for
 * an analogue one. Beyond it, and below 0 Hz, a response is NaN, as W3C Web Audio API 1.1 has it for
 * `getFrequencyResponse`.
 */
export const highestHz = ({ domain, rateHz }: Section): number => (domain === 'z' ? rateHz / 2 : Infinity);
