import { buildChain } from '../../../filters/build.js';
import type { Band } from '../../../filters/extremes.js';
import type { Filter } from '../../../filters/filter.js';
import type { Realisation } from '../../../filters/realisation.js';
import { logFrequencies, magnitudeFloorDb, magnitudeSquared } from '../../../filters/response.js';
import type { Section } from '../../../filters/section.js';
import { keepBand, riseBand, roundingDb, windowBand } from '../../../guard/guard-figures.js';
import type { GuardScope } from '../../../guard/guard-scope.js';
import { itemAt, numberAt } from '../../../units/at.js';
import { hz } from '../../../units/quantity.js';
import { joined } from '../../response.js';
import type { Judged } from './judged.js';

/** Where one realisation's responses are looked at: the pilot's window, then the keep band, then the rise band. */
export interface Points {
  readonly realisation: Realisation;
  readonly frequenciesHz: Float64Array;
  /** First index of the keep band, and of the rise band. */
  readonly keepFrom: number;
  readonly riseFrom: number;
}

const windowPoints = 9;

const evenly = ({ fromHz, toHz }: Band): Float64Array =>
  Float64Array.from({ length: windowPoints }, (_, i) => fromHz + ((toHz - fromHz) * i) / (windowPoints - 1));

const byRatio = ({ fromHz, toHz }: Band): Float64Array => logFrequencies(hz(fromHz), hz(toHz), 24);

/**
 * Points of the bands that the guard's figures are taken over, for one realisation. What a setting comes to at them is no
 * worse than what it comes to anywhere between: never less attenuation, more loss or more rise. So a setting that will not
 * do by its points will not do, and bounds at points are bounds; only what they leave is judged by the whole bands.
 */
export const pointsOf = (realisation: Realisation, scope: GuardScope): Points => {
  const window = evenly(windowBand(scope));
  const keep = byRatio(keepBand(scope));
  return {
    realisation,
    frequenciesHz: joined([window, keep, byRatio(riseBand(realisation.sampleRateHz))]),
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

/** What a chain takes, built one way. */
export const takenBy = (chain: readonly Section[], { frequenciesHz }: Points): Float64Array => {
  const out = new Float64Array(frequenciesHz.length);
  magnitudeSquared(chain, frequenciesHz, out);
  // In place and without a callback: most of a search is spent here.
  for (let i = 0; i < out.length; i++) out[i] = -10 * Math.log10(Math.max(leastPower, numberAt(out, i)));
  return out;
};

/** What filters take, built one way. */
export const attenuationsAt = (filters: readonly Filter[], points: Points): Float64Array =>
  takenBy(buildChain(filters, points.realisation), points);

/** What filters take, in every way of building. */
export const attenuationsOf = (filters: readonly Filter[], points: readonly Points[]): Attenuations =>
  points.map((each) => attenuationsAt(filters, each));

/** What is set aside at each point of the keep band (see `judgedOf`); nothing elsewhere. */
export const asideOf = (
  fixed: Attenuations,
  points: readonly Points[],
  judged: readonly Judged[],
): PerPoint =>
  points.map(({ keepFrom, riseFrom }, r) => {
    const { asideFromDb } = itemAt(judged, r);
    return itemAt(fixed, r).map((fixedDb, i) =>
      i >= keepFrom && i < riseFrom && fixedDb >= asideFromDb ? fixedDb : 0,
    );
  });

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
