import { buildChain } from '../filters/build.js';
import type { Filter } from '../filters/filter.js';
import type { Realisation } from '../filters/realisation.js';
import { magnitudeDb } from '../filters/response.js';

/** A level or a gain nearer to 0 dB than this shows as 0.0 dB, and is nothing to dial, to tell or to hear of. */
export const leastShownDb = 0.05;

/** The curve an intent asks for: its analogue prototype, with the Q of the W3C Audio EQ Cookbook. */
export const analoguePrototype: Realisation = {
  id: 'analogue',
  design: 'analogue',
  qMeaning: 'cookbook',
  sampleRateHz: null,
};

/** The response of filters one after another, built one way, in dB; what they take is the same below 0. */
export const responseDb = (
  filters: readonly Filter[],
  realisation: Realisation,
  frequenciesHz: Float64Array,
): Float64Array => {
  const out = new Float64Array(frequenciesHz.length);
  magnitudeDb(buildChain(filters, realisation), frequenciesHz, out);
  return out;
};

/** Numbers at several stretches of points, or of several realisations, as one row. */
export const joined = (parts: readonly Float64Array[]): Float64Array =>
  Float64Array.from(parts.flatMap((part) => [...part]));
