import { buildChain } from '../../../filters/build.js';
import type { Filter } from '../../../filters/filter.js';
import type { Realisation } from '../../../filters/realisation.js';
import { magnitudeFloorDb, magnitudeSquared } from '../../../filters/response.js';
import {
  keepFrequencies,
  riseFrequencies,
  roundingDb,
  windowFrequencies,
} from '../../../guard/guard-figures.js';
import type { GuardScope } from '../../../guard/guard-scope.js';
import { itemAt, numberAt } from '../../../units/at.js';
import { joined } from '../../response.js';

/** Where one realisation's responses are looked at: the pilot's window, then the keep band, then the rise band. */
export interface Points {
  readonly realisation: Realisation;
  readonly frequenciesHz: Float64Array;
  /** First index of the keep band, and of the rise band. */
  readonly keepFrom: number;
  readonly riseFrom: number;
}

/** The points at which the guard's figures are taken, for one realisation. */
export const pointsOf = (realisation: Realisation, scope: GuardScope): Points => {
  const window = windowFrequencies(scope);
  const keep = keepFrequencies(scope);
  return {
    realisation,
    frequenciesHz: joined([window, keep, riseFrequencies(realisation.sampleRateHz)]),
    keepFrom: window.length,
    riseFrom: window.length + keep.length,
  };
};

/** One number for each point of each realisation. */
export type PerPoint = readonly Float64Array[];

/** What filters take at each point, in dB. Attenuations of a chain add up. */
export type Attenuations = PerPoint;

/** The most a figure says a chain takes: 200 dB. */
export const mostTakenDb = -magnitudeFloorDb;

/** What a notch lets through at its own frequency is told as 1000 dB down, so that sums of such are numbers. */
const leastPower = 1e-100;

/** What filters take, built one way. */
export const attenuationsAt = (
  filters: readonly Filter[],
  { realisation, frequenciesHz }: Points,
): Float64Array => {
  const out = new Float64Array(frequenciesHz.length);
  magnitudeSquared(buildChain(filters, realisation), frequenciesHz, out);
  // In place and without a callback: most of a search is spent here.
  for (let i = 0; i < out.length; i++) out[i] = -10 * Math.log10(Math.max(leastPower, numberAt(out, i)));
  return out;
};

/** What filters take, in every way of building. */
export const attenuationsOf = (filters: readonly Filter[], points: readonly Points[]): Attenuations =>
  points.map((each) => attenuationsAt(filters, each));

/** What of the loss at a point is set aside, given what the filters that stay as they are take there. */
export type KeepAside = (fixedDb: number) => number;

/**
 * Where filters that no search moves take more by themselves than may be lost, what they take is set aside, and those
 * that move are held to the limit beside it. What a low cut takes at 80 Hz is no licence to take as much at 12 kHz.
 */
export const asideAbove =
  (limitDb: number): KeepAside =>
  (fixedDb) =>
    fixedDb > limitDb + roundingDb ? fixedDb : 0;

/** What is set aside at each point of the keep band; nothing elsewhere. */
export const asideOf = (fixed: Attenuations, points: readonly Points[], keepAside: KeepAside): PerPoint =>
  points.map(({ keepFrom, riseFrom }, r) =>
    itemAt(fixed, r).map((fixedDb, i) => (i >= keepFrom && i < riseFrom ? keepAside(fixedDb) : 0)),
  );

/** Where the others alone rise above the scope's limit, the moving ones may add nothing; endless but in the rise band. */
export const leastRiseOf = (
  fixed: Attenuations,
  points: readonly Points[],
  { riseAtMostDb }: GuardScope,
): PerPoint =>
  points.map(({ riseFrom }, r) =>
    itemAt(fixed, r).map((fixedDb, i) =>
      i < riseFrom ? Number.NEGATIVE_INFINITY : Math.min(-riseAtMostDb, fixedDb) - roundingDb,
    ),
  );
