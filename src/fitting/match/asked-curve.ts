import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { logFrequencies } from '../../filters/response.js';
import type { Intent } from '../../model/intent.js';
import { numberAt } from '../../units/at.js';
import { type Db, db, type Hz, hz } from '../../units/quantity.js';
import { analoguePrototype, responseDb } from '../response.js';

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
    const askedDb = responseDb(intents, analoguePrototype, frequenciesHz).map((gainDb) =>
      Math.max(floorDb, gainDb),
    );
    return { realisation, frequenciesHz, askedDb };
  });

/** How far filters lie from the curve asked for at most, where, and in which way of building them. */
export interface CurveDifference {
  readonly differenceDb: Db;
  readonly atHz: Hz;
  readonly realisation: string;
}

/** The greatest difference from the curve of all intents, the worst over realisations. */
export const curveDifference = (
  filters: readonly Filter[],
  intents: readonly Intent[],
  realisations: readonly Realisation[],
): CurveDifference => {
  let worst: CurveDifference = { differenceDb: db(-1), atHz: hz(0), realisation: '' };
  for (const { realisation, frequenciesHz, askedDb } of askedCurves(intents, realisations)) {
    responseDb(filters, realisation, frequenciesHz).forEach((gainDb, i) => {
      const differenceDb = db(Math.abs(Math.max(floorDb, gainDb) - numberAt(askedDb, i)));
      if (differenceDb > worst.differenceDb) {
        worst = { differenceDb, atHz: hz(numberAt(frequenciesHz, i)), realisation: realisation.id };
      }
    });
  }
  return worst;
};
