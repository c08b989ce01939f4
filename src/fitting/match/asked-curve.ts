import { buildChain } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { logFrequencies, magnitudeDb } from '../../filters/response.js';
import type { Intent } from '../../model/intent.js';
import { hz } from '../../units/quantity.js';
import { analogue } from '../analogue.js';

/** Lower than this two curves are taken for alike: nobody hears what is left. */
export const floorDb = -60;

const lowestHz = hz(20);
const highestHz = hz(20000);
const pointsPerOctave = 24;
/** Just below half the sample rate, where every digital response ends. */
const shareOfRate = 0.499;

/** What was asked for, at the points where one realisation is held against it. */
export interface AskedCurve {
  readonly realisation: Realisation;
  readonly frequenciesHz: Float64Array;
  /** Never below `floorDb`. */
  readonly askedDb: Float64Array;
}

/** The response of filters one after another, in dB. */
export const responseDb = (
  filters: readonly Filter[],
  realisation: Realisation,
  frequenciesHz: Float64Array,
): Float64Array => {
  const out = new Float64Array(frequenciesHz.length);
  magnitudeDb(buildChain(filters, realisation), frequenciesHz, out);
  return out;
};

/**
 * The analogue prototypes of intents as one chain, for each realisation at its own points: 24 to an octave from
 * 20 Hz to 20 kHz, leaving out those above 0.499 of its sample rate.
 */
export const askedCurves = (
  intents: readonly Intent[],
  realisations: readonly Realisation[],
): readonly AskedCurve[] =>
  realisations.map((realisation) => {
    const { sampleRateHz } = realisation;
    const frequenciesHz = logFrequencies(lowestHz, highestHz, pointsPerOctave).filter(
      (frequencyHz) => sampleRateHz === null || frequencyHz <= shareOfRate * sampleRateHz,
    );
    const askedDb = responseDb(intents, analogue, frequenciesHz).map((gainDb) => Math.max(floorDb, gainDb));
    return { realisation, frequenciesHz, askedDb };
  });
