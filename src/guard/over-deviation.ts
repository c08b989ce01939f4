import { amplitudeRatio } from '../units/decibels.js';
import type { Db } from '../units/quantity.js';
import type { GuardScope } from './guard-scope.js';
import { deviationPerFullScale, programmeDeviation } from './modulation.js';
import { pinkShare } from './pink-share.js';
import { type PinkProgramme, usualProgramme } from './programme.js';

/** Peaks of noise above its RMS that a limiter is set to let through: 12 dB. Common practice, no source. */
const peakOverRms = amplitudeRatio(12);

/** Peaks of pink noise over a full-scale sine, pre-emphasis and the encoder's low-pass included. */
const peakOverFullScale = (
  { levelDbfs, lowHz, highHz }: PinkProgramme,
  preEmphasisMicroseconds: number,
  encoder: GuardScope['encoder'],
): number => {
  const share = pinkShare(
    { lowHz, highHz },
    { fromHz: lowHz, toHz: highHz },
    encoder,
    preEmphasisMicroseconds,
  );
  return (peakOverRms * amplitudeRatio(levelDbfs) * Math.sqrt(share)) / Math.SQRT2;
};

/** The share of deviation that peaks of pink noise take, pre-emphasis and the encoder's low-pass included; 1 is all of it. */
export const peakDeviation = (
  programme: PinkProgramme,
  preEmphasisMicroseconds: number,
  lineUpDbfs: Db,
  encoder: GuardScope['encoder'] = [],
): number =>
  peakOverFullScale(programme, preEmphasisMicroseconds, encoder) *
  deviationPerFullScale({ preEmphasisMicroseconds, lineUpDbfs });

/**
 * The line-ups of a scope at which peaks of the usual programme would take more than the programme may: with them a
 * transmitter's limiter is at work, which no figure here has in it.
 */
export const overDeviatingLineUps = ({
  preEmphasisMicroseconds,
  lineUpDbfs,
  encoder,
}: Pick<GuardScope, 'preEmphasisMicroseconds' | 'lineUpDbfs' | 'encoder'>): readonly Db[] => {
  // The same at every line-up, so worked out once.
  const peaks = preEmphasisMicroseconds.map((microseconds) => ({
    preEmphasisMicroseconds: microseconds,
    peak: peakOverFullScale(usualProgramme, microseconds, encoder),
  }));
  return lineUpDbfs.filter((each) =>
    peaks.some(
      ({ peak, ...modulation }) =>
        peak * deviationPerFullScale({ ...modulation, lineUpDbfs: each }) > programmeDeviation,
    ),
  );
};
