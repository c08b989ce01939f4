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

/** What is played: noise or a tone. */
export type Programme = PinkProgramme | ToneProgramme;

/** Pink noise at −18 dBFS RMS from 20 Hz to 20 kHz, in mono, which reaches the pilot with the most power. */
export const usualProgramme = {
  kind: 'pink',
  levelDbfs: db(-18),
  lowHz: hz(20),
  highHz: hz(20000),
  image: 'identical',
} as const satisfies PinkProgramme;

/** How a component of the programme gets into the composite. */
export type Route = 'sum' | 'difference-lower' | 'difference-upper';

/** One place in the composite at which a component of the programme arrives. */
export interface Landing {
  readonly route: Route;
  readonly frequencyHz: Hz;
  /** Amplitude there over the amplitude the component has in its own channel, sum or difference. */
  readonly amplitude: number;
}

/**
 * The mirror image of a frequency about the pilot: 19 kHz − d and 19 kHz + d are each other's, and the pilot's
 * own image is the pilot. Beyond twice the pilot the image folds at 0 Hz.
 */
export const mirroredHz = (frequencyHz: Hz, pilotHz: Hz): Hz => hz(Math.abs(2 * pilotHz - frequencyHz));

/**
 * Where a component of the programme at `programmeHz` arrives in the composite.
 *
 * The sum channel goes out as it is. The difference channel modulates a suppressed subcarrier at twice the pilot
 * (47 CFR 73.322(a)(3) to (6): 38 kHz, double sideband), sin a · sin b = ½ cos(a − b) − ½ cos(a + b): half its
 * amplitude at 2·pilot − f, half at 2·pilot + f. So treble at pilot − d arrives at pilot − d and at pilot + d:
 * only what lies round the pilot in the programme gets near the pilot in the composite, and it gets there on
 * both sides.
 */
export const landings = (programmeHz: Hz, pilotHz: Hz): readonly Landing[] => [
  { route: 'sum', frequencyHz: programmeHz, amplitude: 1 },
  { route: 'difference-lower', frequencyHz: mirroredHz(programmeHz, pilotHz), amplitude: 0.5 },
  { route: 'difference-upper', frequencyHz: hz(2 * pilotHz + programmeHz), amplitude: 0.5 },
];

/** The power of M = (L + R)/2 and of S = (L − R)/2, each over the power of one channel that sounds. */
const channelPowers: Readonly<Record<StereoImage, { readonly sum: number; readonly difference: number }>> = {
  'left-only': { sum: 1 / 4, difference: 1 / 4 },
  'right-only': { sum: 1 / 4, difference: 1 / 4 },
  identical: { sum: 1, difference: 0 },
  independent: { sum: 1 / 2, difference: 1 / 2 },
};

/** What of a component at the pilot arrives at the pilot, wherever that lies. */
const arrivingAtPilot = landings(hz(1), hz(1)).filter(({ frequencyHz }) => frequencyHz === 1);

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
  const powers = channelPowers[image];
  return arrivingAtPilot.reduce(
    (power, { route, amplitude }) =>
      power + amplitude * amplitude * (route === 'sum' ? powers.sum : powers.difference),
    0,
  );
};
