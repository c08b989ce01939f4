import { amplitudeRatio } from '../units/decibels.js';
import type { Db } from '../units/quantity.js';
import { db } from '../units/quantity.js';

/**
 * Stereo separation where the pilot is off by `phaseErrorRadians`, in dB: 40 log10 cot φ. Infinity at 0, nothing
 * at 45°, negative beyond, where left and right change places.
 *
 * The subcarrier regenerated at twice the pilot is off by 2φ, so the difference channel comes out as S cos 2φ; of
 * a sound in left only, (1 + cos 2φ)/2 stays and (1 − cos 2φ)/2 crosses over. By trigonometry from 47 CFR
 * 73.322's composite, for an ideal decoder: a model.
 */
export const separationDb = (phaseErrorRadians: number): Db =>
  db(0 - 40 * Math.log10(Math.abs(Math.tan(phaseErrorRadians))));

/**
 * Separation where the difference channel comes out at `share` of its size, in dB: 20 log10 |(1 + share)/(1 − share)|.
 * Nothing at 0, which is mono, negative below it, where left and right change places. With a share of cos 2φ it
 * is `separationDb`; a receiver that fades to mono makes the share smaller still.
 */
export const separationOfShareDb = (share: number): Db =>
  db(20 * Math.log10(Math.abs((1 + share) / (1 - share))));

/** The phase error of the pilot, 0 to 45°, beyond which separation is less than this: the inverse of `separationDb`. */
export const phaseErrorAtRadians = (leastSeparationDb: Db): number =>
  Math.atan(amplitudeRatio(-leastSeparationDb / 2));
