import type { Db, Hz } from '../units/quantity.js';
import { db, hz } from '../units/quantity.js';

/** How left and right of a programme go together. `identical` is mono, `independent` unrelated at equal level. */
export type StereoImage = 'left-only' | 'right-only' | 'identical' | 'independent';

/** Pink noise: equal power in every octave between its limits, none outside. */
export interface PinkProgramme {
  readonly kind: 'pink';
  /** RMS of each channel that sounds; 0 dBFS is a full-scale sine's RMS. */
  readonly levelDbfs: Db;
  readonly lowHz: Hz;
  readonly highHz: Hz;
  readonly image: StereoImage;
}

/** A steady sine. */
export interface ToneProgramme {
  readonly kind: 'tone';
  readonly levelDbfs: Db;
  readonly frequencyHz: Hz;
  readonly image: Exclude<StereoImage, 'independent'>;
}

export type Programme = PinkProgramme | ToneProgramme;

/** Pink noise at −18 dBFS RMS from 20 Hz to 20 kHz, in mono, which reaches the pilot with the most power. */
export const usualProgramme = {
  kind: 'pink',
  levelDbfs: db(-18),
  lowHz: hz(20),
  highHz: hz(20000),
  image: 'identical',
} as const satisfies PinkProgramme;

/** The power of M = (L + R)/2 and of S = (L − R)/2, each over the power of one channel that sounds. */
const channelPowers: Readonly<Record<StereoImage, { readonly sum: number; readonly difference: number }>> = {
  'left-only': { sum: 1 / 4, difference: 1 / 4 },
  'right-only': { sum: 1 / 4, difference: 1 / 4 },
  identical: { sum: 1, difference: 0 },
  independent: { sum: 1 / 2, difference: 1 / 2 },
};

/**
 * The power that arrives round the pilot over the power that one channel has there: all of the sum channel's and
 * a quarter of the difference channel's (half the amplitude, see `landings`). Mono 1 (0 dB), independent 5/8
 * (−2.0 dB), one channel only 5/16 (−5.1 dB).
 *
 * Mono is the worst there can be. For channel powers l, r ≤ 1 and a correlation c between them
 * (−√(l r) ≤ c ≤ √(l r)), sum and difference have (l + r ± 2c)/4, and what arrives is
 * (5(l + r) + 6c)/16, which grows with each of the three and is 1 where all of them are.
 *
 * Powers add because the two arrivals are never one component: what arrives at pilot + d is the sum at pilot + d
 * and the difference at pilot − d, two frequencies, which are unrelated in noise. A tone exactly on the
 * pilot would meet itself there, but no desk shares the transmitter's clock: it passes through all phases against
 * the pilot, and over that the powers add again (for a moment the amplitude may be ½ + ¼ = ¾ of one channel's).
 */
export const powerAtPilot = (image: StereoImage): number => {
  const { sum, difference } = channelPowers[image];
  return sum + difference / 4;
};
