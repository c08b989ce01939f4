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

/** The figures of a track from `fromSeconds` (when the loop has settled) to its end. */
export const measureLock = (
  { phaseErrorRadians, locked, sampleRateHz }: PilotTrack,
  fromSeconds: number,
): LockFigures => {
  const from = Math.round(fromSeconds * sampleRateHz);
  const count = phaseErrorRadians.length - from;
  if (!(count > 0)) throw new RangeError(`nothing is left after ${fromSeconds} s`);
  const start = turn * Math.round((phaseErrorRadians[from] as number) / turn);
  let sum = 0;
  let squares = 0;
  let peakRadians = 0;
  let on = 0;
  for (let n = from; n < phaseErrorRadians.length; n++) {
    const error = (phaseErrorRadians[n] as number) - start;
    sum += error;
    squares += error * error;
    peakRadians = Math.max(peakRadians, Math.abs(error));
    on += locked[n] as number;
  }
  const last = (phaseErrorRadians.at(-1) as number) - start;
  return {
    meanRadians: sum / count,
    rmsRadians: Math.sqrt(squares / count),
    peakRadians,
    cycleSlips: Math.abs(Math.round(last / turn)),
    lockedShare: on / count,
    kept: on === count && peakRadians < Math.PI,
  };
};
