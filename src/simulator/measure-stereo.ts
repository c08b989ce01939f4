import { separationOfShareDb } from '../guard/separation.js';
import { type Db, db } from '../units/quantity.js';
import type { Received } from './decode.js';

/** Stereo is whole from here up, and folded to mono below there: common practice, no source. */
export const wholeFromDb: Db = db(20);
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
  const from = Math.round(fromSeconds * sampleRateHz);
  const count = amounts.length - from;
  if (!(count > 0)) throw new RangeError(`nothing is left after ${fromSeconds} s`);
  const times = { swapped: 0, folded: 0, narrowed: 0 };
  for (let i = from; i < amounts.length; i++) {
    const share = (amounts[i] as number) * Math.cos(2 * (track.phaseErrorRadians[i * factor] as number));
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
