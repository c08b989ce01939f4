import { magnitudeSquared } from '../filters/response.js';
import type { Section } from '../filters/section.js';
import type { Db, Hz } from '../units/quantity.js';
import { db } from '../units/quantity.js';
import type { GuardScope } from './guard-scope.js';
import { deviationPerFullScale, type Modulation, pilotDeviation, usualLineUpsDbfs } from './line-up.js';
import { pinkShare } from './pink-share.js';
import { preEmphasisPower } from './pre-emphasis.js';
import { type Programme, powerAtPilot, type ToneProgramme, usualProgramme } from './programme.js';

/** What a ratio of pilot to programme is worked out for. */
export interface PilotSituation extends Modulation {
  /** Half-width of the window round the pilot. */
  readonly windowHz: Hz;
  readonly programme: Programme;
}

/**
 * Pilot over the programme that falls into the pilot's window in the composite, in dB: 10 log10 of the pilot's
 * mean square (9 % of deviation) over the programme's, after the chain and pre-emphasis. Negative where the
 * programme is the stronger; Infinity where none of it falls into the window.
 *
 * Sum and difference channel both reach the pilot, from the same stretch of the programme, pilot ± window (see
 * `landings`); `powerAtPilot` says what of it arrives for each stereo image, and why mono is the worst. The model
 * is linear: a transmitter's limiter and compander are not in it.
 *
 * `chain` is what one output's filters are for one way of building them, the same on both legs of a pair.
 */
export const pilotToProgrammeDb = (chain: readonly Section[], situation: PilotSituation): Db => {
  const { programme } = situation;
  const arriving =
    meanSquareOfSine(deviationPerFullScale(situation)) *
    10 ** (programme.levelDbfs / 10) *
    powerAtPilot(programme.image) *
    shareInWindow(chain, situation);
  return db(10 * Math.log10(meanSquareOfSine(pilotDeviation) / arriving));
};

const meanSquareOfSine = (peak: number): number => (peak * peak) / 2;

/** The programme's power in the window, filters and pre-emphasis included, over all of its power without them. */
const shareInWindow = (chain: readonly Section[], situation: PilotSituation): number => {
  const { programme, pilotHz, windowHz, preEmphasisMicroseconds } = situation;
  if (programme.kind === 'pink') {
    const window = { fromHz: pilotHz - windowHz, toHz: pilotHz + windowHz };
    return pinkShare(programme, window, chain, preEmphasisMicroseconds);
  }
  return Math.abs(programme.frequencyHz - pilotHz) <= windowHz
    ? toneGain(chain, programme, preEmphasisMicroseconds)
    : 0;
};

const toneGain = (
  chain: readonly Section[],
  { frequencyHz }: ToneProgramme,
  preEmphasisMicroseconds: number,
): number => {
  const gain = new Float64Array(1);
  magnitudeSquared(chain, Float64Array.of(frequencyHz), gain);
  const [power = Number.NaN] = gain;
  // A digital desk puts nothing out above half its sample rate, where its chain has no response.
  return Number.isNaN(power) ? 0 : power * preEmphasisPower(frequencyHz, preEmphasisMicroseconds);
};

/** The least and the most of a figure over what is not known. */
export interface DbRange {
  readonly leastDb: Db;
  readonly mostDb: Db;
}

/**
 * `pilotToProgrammeDb` over every pre-emphasis of a scope and every line-up in question: what can be said where
 * a rig tells neither.
 */
export const pilotToProgrammeRange = (
  chain: readonly Section[],
  scope: Pick<GuardScope, 'pilotHz' | 'windowHz' | 'preEmphasisMicroseconds'>,
  programme: Programme = usualProgramme,
  lineUpsDbfs: readonly Db[] = usualLineUpsDbfs,
): DbRange => {
  const { pilotHz, windowHz } = scope;
  const figures = scope.preEmphasisMicroseconds.flatMap((preEmphasisMicroseconds) =>
    lineUpsDbfs.map((lineUpDbfs) =>
      pilotToProgrammeDb(chain, { pilotHz, windowHz, preEmphasisMicroseconds, lineUpDbfs, programme }),
    ),
  );
  return { leastDb: db(Math.min(...figures)), mostDb: db(Math.max(...figures)) };
};
