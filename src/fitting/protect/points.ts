import { buildSections } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { magnitudeDb } from '../../filters/response.js';
import { keepFrequencies, riseFrequencies, windowFrequencies } from '../../multiplex/guard-figures.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';

/** Where one realisation's responses are looked at: the pilot's window, then the keep band, then the rise band. */
export interface Points {
  readonly realisation: Realisation;
  readonly frequenciesHz: Float64Array;
  /** First index of the keep band, and of the rise band. */
  readonly keepFrom: number;
  readonly riseFrom: number;
}

const joined = (parts: readonly Float64Array[]): Float64Array => {
  const all = new Float64Array(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
};

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

/** A filter's attenuation in dB at all points of each realisation. Attenuations of a chain add up. */
export type Attenuations = readonly Float64Array[];

export const attenuationsOf = (filters: readonly Filter[], points: readonly Points[]): Attenuations =>
  points.map(({ realisation, frequenciesHz }) => {
    const out = new Float64Array(frequenciesHz.length);
    magnitudeDb(
      filters.flatMap((filter) => buildSections(filter, realisation)),
      frequenciesHz,
      out,
    );
    return out.map((gainDb) => -gainDb);
  });

/** The least of a sum of attenuations over a range of points, over all realisations. */
export const leastOfSum = (
  terms: readonly Attenuations[],
  points: readonly Points[],
  range: (points: Points) => readonly [from: number, to: number],
): number => fold(terms, points, range, Number.POSITIVE_INFINITY, Math.min);

/** The most of a sum of attenuations over a range of points, over all realisations. */
export const mostOfSum = (
  terms: readonly Attenuations[],
  points: readonly Points[],
  range: (points: Points) => readonly [from: number, to: number],
): number => fold(terms, points, range, Number.NEGATIVE_INFINITY, Math.max);

const fold = (
  terms: readonly Attenuations[],
  points: readonly Points[],
  range: (points: Points) => readonly [from: number, to: number],
  start: number,
  pick: (a: number, b: number) => number,
): number => {
  let result = start;
  for (let r = 0; r < points.length; r++) {
    const [from, to] = range(points[r] as Points);
    for (let i = from; i < to; i++) {
      let sum = 0;
      for (const term of terms) sum += (term[r] as Float64Array)[i] as number;
      result = pick(result, sum);
    }
  }
  return result;
};

export const inWindow = ({ keepFrom }: Points) => [0, keepFrom] as const;
export const inKeepBand = ({ keepFrom, riseFrom }: Points) => [keepFrom, riseFrom] as const;
export const inRiseBand = ({ riseFrom, frequenciesHz }: Points) => [riseFrom, frequenciesHz.length] as const;
