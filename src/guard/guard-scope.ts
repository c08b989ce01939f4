import { buildSections } from '../filters/build.js';
import { attenuationDbAt } from '../filters/response.js';
import type { Section } from '../filters/section.js';
import { type Db, type DbPerOctave, db, type Hz, hz } from '../units/quantity.js';
import { preEmphasisDb, usualLineUpsDbfs, usualPreEmphasesMicroseconds } from './modulation.js';

/** What a guard is judged over, and the limits it is judged by. */
export interface GuardScope {
  readonly pilotHz: Hz;
  /** Half-width of the window round the pilot. */
  readonly windowHz: Hz;
  readonly keepLowHz: Hz;
  readonly keepHighHz: Hz;
  /** One value where the system's is known, else every usual one. */
  readonly preEmphasisMicroseconds: readonly number[];
  /** One value where the system's is known, else every usual one. */
  readonly lineUpDbfs: readonly Db[];
  /** The low-pass in front of the transmitter's encoder; none unless the system's is known. */
  readonly encoder: readonly Section[];
  readonly pilotAttenuationAtLeastDb: Db;
  readonly keepLossAtMostDb: Db;
  /** Whether that limit was stated, and is hard; else it is the most that may be lost to reach the attenuation asked. */
  readonly isKeepLossStated: boolean;
  readonly riseAtMostDb: Db;
}

/** What may be said otherwise than usual. */
export interface GuardChoices {
  readonly windowHz?: Hz;
  readonly keepLowHz?: Hz;
  readonly keepHighHz?: Hz;
  readonly keepLossAtMostDb?: Db;
  readonly keepLossToReachDb?: Db;
  readonly pilotAttenuationAtLeastDb?: Db;
  readonly preEmphasisMicroseconds?: number;
  readonly lineUpDbfs?: Db;
  readonly encoderLowpassHz?: Hz;
  readonly encoderLowpassDbPerOctave?: DbPerOctave;
}

/** The most the music may lose to reach the attenuation asked, where nobody says. Common practice, no source. */
export const usualLossToReachDb = db(3);

const encoderOf = ({ encoderLowpassHz, encoderLowpassDbPerOctave }: GuardChoices): readonly Section[] =>
  encoderLowpassHz === undefined || encoderLowpassDbPerOctave === undefined
    ? []
    : buildSections(
        { type: 'lowpass', frequencyHz: encoderLowpassHz, slopeDbPerOctave: encoderLowpassDbPerOctave },
        { id: 'encoder', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null },
      );

/**
 * The scope of a guard round a pilot. Unless told otherwise: a window of ±100 Hz, music kept from 80 Hz to
 * 12 kHz within 3 dB, no rise above 0.1 dB (common practice, no source), and at the pilot as much
 * attenuation as pre-emphasis adds there, so that treble meets the pilot no louder than it left the desk (a convention of
 * this project); the greater of the usual pre-emphases where the system's is not known. What the encoder's own low-pass
 * takes there, if it is known to have one, need not be taken again. Of line-ups, too, every usual one is in question
 * unless one is told.
 */
export const guardScope = (pilotHz: Hz, choices: GuardChoices = {}): GuardScope => {
  const known = choices.preEmphasisMicroseconds;
  const preEmphasisMicroseconds = known === undefined ? usualPreEmphasesMicroseconds : [known];
  const lifted = preEmphasisMicroseconds.map((microseconds) => preEmphasisDb(pilotHz, microseconds));
  const windowHz = choices.windowHz ?? hz(100);
  const encoder = encoderOf(choices);
  const encoderDb = attenuationDbAt(encoder, hz(pilotHz - windowHz));
  return {
    pilotHz,
    windowHz,
    keepLowHz: choices.keepLowHz ?? hz(80),
    keepHighHz: choices.keepHighHz ?? hz(12000),
    preEmphasisMicroseconds,
    lineUpDbfs: choices.lineUpDbfs === undefined ? usualLineUpsDbfs : [choices.lineUpDbfs],
    encoder,
    pilotAttenuationAtLeastDb:
      choices.pilotAttenuationAtLeastDb ?? db(Math.max(0, Math.max(...lifted) - encoderDb)),
    keepLossAtMostDb: choices.keepLossAtMostDb ?? choices.keepLossToReachDb ?? usualLossToReachDb,
    isKeepLossStated: choices.keepLossAtMostDb !== undefined,
    riseAtMostDb: db(0.1),
  };
};
