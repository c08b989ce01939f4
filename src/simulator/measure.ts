import { separationOfShareDb } from '../guard/separation.js';
import { itemAt, numberAt } from '../units/at.js';
import { type Db, db, type Hz } from '../units/quantity.js';
import type { Received } from './decode.js';
import type { PilotTrack } from './track-pilot.js';

/** What a loop did from some moment on. */
export interface LockFigures {
  /** Of the error about the subcarrier's own phase, counted from the whole turn it stood nearest to at the start. */
  readonly meanRadians: number;
  readonly rmsRadians: number;
  readonly peakRadians: number;
  /** Whole turns, either way, that the loop gained or lost on the pilot and did not take back. */
  readonly cycleSlips: number;
  /** The share of the time for which the lock indicator was on: 0 to 1. */
  readonly lockedShare: number;
  /** The indicator was on all the time and the error never came to half a turn. */
  readonly kept: boolean;
}

const turn = 2 * Math.PI;

/** The samples from a moment on: the first, and how many. Throws RangeError where there are none. */
const leftAfter = (fromSeconds: number, sampleRateHz: Hz, length: number) => {
  const from = Math.round(fromSeconds * sampleRateHz);
  const count = length - from;
  if (!(count > 0)) throw new RangeError(`nothing is left after ${fromSeconds} s`);
  return { from, count };
};

/** The figures of a track from `fromSeconds` (when the loop has settled) to its end. */
export const measureLock = (
  { phaseErrorRadians, locked, sampleRateHz }: PilotTrack,
  fromSeconds: number,
): LockFigures => {
  const { from, count } = leftAfter(fromSeconds, sampleRateHz, phaseErrorRadians.length);
  const start = turn * Math.round(numberAt(phaseErrorRadians, from) / turn);
  let sum = 0;
  let squares = 0;
  let peakRadians = 0;
  let on = 0;
  for (let n = from; n < phaseErrorRadians.length; n++) {
    const error = numberAt(phaseErrorRadians, n) - start;
    sum += error;
    squares += error * error;
    peakRadians = Math.max(peakRadians, Math.abs(error));
    on += itemAt(locked, n);
  }
  const last = numberAt(phaseErrorRadians, phaseErrorRadians.length - 1) - start;
  return {
    meanRadians: sum / count,
    rmsRadians: Math.sqrt(squares / count),
    peakRadians,
    cycleSlips: Math.abs(Math.round(last / turn)),
    lockedShare: on / count,
    kept: on === count && peakRadians < Math.PI,
  };
};

/** Stereo is whole from here up, and folded to mono below there: common practice, no source. */
export const wholeFromDb: Db = db(20);
/** See `wholeFromDb`. */
export const foldedBelowDb: Db = db(6);

/** What a listener gets of the stereo: shares of the time, 0 to 1, none of which counts twice. */
export interface StereoFigures {
  /** Left comes out on the right and right on the left: the pilot is off by more than 45°. */
  readonly swappedShare: number;
  /** Separation is less than 6 dB, or the receiver has gone mono. */
  readonly foldedShare: number;
  /** Separation is less than 20 dB. */
  readonly narrowedShare: number;
}

/**
 * The figures from `fromSeconds` (when the loop has settled) to the end. The difference channel comes out at g cos 2φ of
 * its size, for the pilot's phase error φ and what the receiver lets through of it, g (see `separationOfShareDb`).
 */
export const measureStereo = (
  { track, factor, sampleRateHz }: Pick<Received, 'track' | 'factor' | 'sampleRateHz'>,
  amounts: Float64Array,
  fromSeconds: number,
): StereoFigures => {
  const { from, count } = leftAfter(fromSeconds, sampleRateHz, amounts.length);
  const times = { swapped: 0, folded: 0, narrowed: 0 };
  for (let i = from; i < amounts.length; i++) {
    const share = numberAt(amounts, i) * Math.cos(2 * numberAt(track.phaseErrorRadians, i * factor));
    const separation = separationOfShareDb(share);
    if (share < 0) times.swapped++;
    else if (separation < foldedBelowDb) times.folded++;
    else if (separation < wholeFromDb) times.narrowed++;
  }
  return {
    swappedShare: times.swapped / count,
    foldedShare: times.folded / count,
    narrowedShare: times.narrowed / count,
  };
};
