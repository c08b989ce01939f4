import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import type { Intent } from '../../model/intent.js';
import { type Db, db, type Hz, hz } from '../../units/quantity.js';
import { askedCurves, floorDb, responseDb } from './asked-curve.js';

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
      const differenceDb = db(Math.abs(Math.max(floorDb, gainDb) - (askedDb[i] as number)));
      if (differenceDb > worst.differenceDb) {
        worst = { differenceDb, atHz: hz(frequenciesHz[i] as number), realisation: realisation.id };
      }
    });
  }
  return worst;
};
