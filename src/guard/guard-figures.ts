import { type Band, highestDb, lowestDb } from '../filters/extremes.js';
import { magnitudeSquared } from '../filters/response.js';
import type { Section } from '../filters/section.js';
import { numberAt } from '../units/at.js';
import { type Db, db, type Hz } from '../units/quantity.js';
import type { GuardScope } from './guard-scope.js';
import { preEmphasisPower } from './modulation.js';
import { type DbRange, pilotToProgrammeRange, worstRange } from './pilot-to-programme.js';

/** What a chain of filters does to the pilot and to the music, in dB. */
export interface GuardFigures {
  readonly pilotAttenuationDb: Db;
  readonly keepLossDb: Db;
  readonly riseDb: Db;
  readonly guardBandDb: Db;
  /** Over what is not known of the link; null where nothing of the programme falls into the pilot's window. */
  readonly pilotToProgrammeDb: DbRange | null;
}

/** The pilot's window, ends included. */
export const windowBand = ({ pilotHz, windowHz }: GuardScope): Band => ({
  fromHz: pilotHz - windowHz,
  toHz: pilotHz + windowHz,
});

/** The keep band, ends included. */
export const keepBand = ({ keepLowHz, keepHighHz }: GuardScope): Band => ({
  fromHz: keepLowHz,
  toHz: keepHighHz,
});

/** 20 Hz to 20 kHz, or to just below half the sample rate. */
export const riseBand = (sampleRateHz: Hz | null): Band => ({
  fromHz: 20,
  toHz: sampleRateHz === null ? 20000 : Math.min(20000, 0.499 * sampleRateHz),
});

/** Least attenuation anywhere in the window: the figure a pilot cut is bought for. */
export const pilotAttenuationDb = (chain: readonly Section[], scope: GuardScope): Db =>
  db(0 - highestDb(chain, windowBand(scope)));

/** Most loss anywhere in the keep band. */
export const keepLossDb = (chain: readonly Section[], scope: GuardScope): Db =>
  db(0 - lowestDb(chain, keepBand(scope)));

/** Most rise above 0 dB from 20 Hz to 20 kHz, or to just below half the sample rate; negative if all is cut. */
export const riseDb = (chain: readonly Section[], sampleRateHz: Hz | null): Db =>
  highestDb(chain, riseBand(sampleRateHz));

const guardBandFromHz = 15000;
const guardBandToHz = 23000;
/**
 * Even, as Simpson's rule needs. They lie 40 Hz apart at the lower end, fine enough for bells of a Q up to 100 there, and
 * ever denser towards the upper: there a wide bell returns to 0 dB within a few hertz, if half the sample rate is the end.
 */
const guardBandIntervals = 400;

/** What arrives at each of the frequencies by one pre-emphasis, weighted for Simpson's rule, and the sum of that. */
interface Arriving {
  readonly weights: Float64Array;
  readonly sum: number;
}

interface GuardBand {
  readonly frequenciesHz: Float64Array;
  readonly arriving: readonly Arriving[];
}

const makeGuardBand = ({ encoder, preEmphasisMicroseconds }: GuardScope, toHz: number): GuardBand => {
  /** From 1 to 0, evenly: f = end - width · toEnd², df = 2 · width · toEnd. */
  const toEnd = Float64Array.from({ length: guardBandIntervals + 1 }, (_, i) => 1 - i / guardBandIntervals);
  const frequenciesHz = toEnd.map((share) => toHz - (toHz - guardBandFromHz) * share * share);
  const encoderPower = new Float64Array(frequenciesHz.length);
  magnitudeSquared(encoder, frequenciesHz, encoderPower);
  const arriving = preEmphasisMicroseconds.map((microseconds): Arriving => {
    const weights = frequenciesHz.map((frequencyHz, i) => {
      const simpson = i === 0 || i === guardBandIntervals ? 1 : i % 2 === 1 ? 4 : 2;
      const spectrum =
        (preEmphasisPower(frequencyHz, microseconds) * numberAt(encoderPower, i)) / frequencyHz;
      return simpson * spectrum * numberAt(toEnd, i);
    });
    return { weights, sum: weights.reduce((sum, weight) => sum + weight, 0) };
  });
  return { frequenciesHz, arriving };
};

/** A search asks for thousands of chains within one scope. */
const guardBands = new WeakMap<GuardScope, Map<number, GuardBand>>();

const guardBandOf = (scope: GuardScope, toHz: number): GuardBand => {
  const ofScope = guardBands.get(scope) ?? new Map<number, GuardBand>();
  guardBands.set(scope, ofScope);
  const band = ofScope.get(toHz) ?? makeGuardBand(scope, toHz);
  ofScope.set(toHz, band);
  return band;
};

/**
 * How much less pink programme, pre-emphasis included, reaches the band round the pilot (15 to 23 kHz) than
 * without the chain: 10 log10 of ∫S / ∫S|H|², S(f) = (1 + (2πfτ)²) / f, by Simpson's rule; S is also what the encoder's
 * own low-pass leaves, if it is known to have one. The least over the pre-emphases in question.
 */
export const guardBandDb = (chain: readonly Section[], scope: GuardScope, sampleRateHz: Hz | null): Db => {
  const toHz = sampleRateHz === null ? guardBandToHz : Math.min(guardBandToHz, sampleRateHz / 2);
  const { frequenciesHz, arriving } = guardBandOf(scope, toHz);
  const power = new Float64Array(frequenciesHz.length);
  magnitudeSquared(chain, frequenciesHz, power);
  const reductions = arriving.map(({ weights, sum }) => {
    let withChain = 0;
    for (let i = 0; i < weights.length; i++) withChain += numberAt(weights, i) * numberAt(power, i);
    return 10 * Math.log10(sum / withChain);
  });
  return db(Math.min(...reductions));
};

/** All figures of one chain, for one way of building it. */
export const guardFigures = (
  chain: readonly Section[],
  scope: GuardScope,
  sampleRateHz: Hz | null,
): GuardFigures => ({
  pilotAttenuationDb: pilotAttenuationDb(chain, scope),
  keepLossDb: keepLossDb(chain, scope),
  riseDb: riseDb(chain, sampleRateHz),
  guardBandDb: guardBandDb(chain, scope, sampleRateHz),
  pilotToProgrammeDb: pilotToProgrammeRange(chain, scope),
});

/** The worst of several: least attenuation, most loss, most rise, least guard band, least pilot to programme. */
export const worstFigures = (figures: readonly GuardFigures[]): GuardFigures => ({
  pilotAttenuationDb: db(Math.min(...figures.map((each) => each.pilotAttenuationDb))),
  keepLossDb: db(Math.max(...figures.map((each) => each.keepLossDb))),
  riseDb: db(Math.max(...figures.map((each) => each.riseDb))),
  guardBandDb: db(Math.min(...figures.map((each) => each.guardBandDb))),
  pilotToProgrammeDb: worstRange(figures.map((each) => each.pilotToProgrammeDb)),
});

/** Room for the last bits of a logarithm, so that a bell of exactly 15 dB passes a limit of 15 dB. */
export const roundingDb = 1e-9;

/** Whether every limit of the scope holds. */
export const guardHolds = (
  figures: Pick<GuardFigures, 'pilotAttenuationDb' | 'keepLossDb' | 'riseDb'>,
  scope: GuardScope,
): boolean =>
  figures.pilotAttenuationDb >= scope.pilotAttenuationAtLeastDb - roundingDb &&
  figures.keepLossDb <= scope.keepLossAtMostDb + roundingDb &&
  figures.riseDb <= scope.riseAtMostDb + roundingDb;
