import type { Db, Hz } from '../units/quantity.js';
import { db, hz } from '../units/quantity.js';
import { usualLineUpsDbfs } from './line-up.js';
import { preEmphasisDb, usualPreEmphasesMicroseconds } from './pre-emphasis.js';

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
  readonly pilotAttenuationAtLeastDb: Db;
  readonly keepLossAtMostDb: Db;
  readonly riseAtMostDb: Db;
}

/** What may be said otherwise than usual. */
export interface GuardChoices {
  readonly windowHz?: Hz;
  readonly keepLowHz?: Hz;
  readonly keepHighHz?: Hz;
  readonly keepLossLimitDb?: Db;
  readonly pilotAttenuationAtLeastDb?: Db;
  readonly preEmphasisMicroseconds?: number;
  readonly lineUpDbfs?: Db;
}

/**
 * The scope of a guard round a pilot. Unless told otherwise: a window of ±100 Hz, music kept from 80 Hz to
 * 12 kHz within 1 dB, no rise above 0.1 dB (common practice, no source), and at the pilot as much
 * attenuation as pre-emphasis adds there, so that treble meets the pilot no louder than it left the desk;
 * the greater of the usual pre-emphases where the system's is not known. Of line-ups, too, every usual one is
 * in question then.
 */
export const guardScope = (pilotHz: Hz, choices: GuardChoices = {}): GuardScope => {
  const known = choices.preEmphasisMicroseconds;
  const preEmphasisMicroseconds = known === undefined ? usualPreEmphasesMicroseconds : [known];
  const lifted = preEmphasisMicroseconds.map((microseconds) => preEmphasisDb(pilotHz, microseconds));
  return {
    pilotHz,
    windowHz: choices.windowHz ?? hz(100),
    keepLowHz: choices.keepLowHz ?? hz(80),
    keepHighHz: choices.keepHighHz ?? hz(12000),
    preEmphasisMicroseconds,
    lineUpDbfs: choices.lineUpDbfs === undefined ? usualLineUpsDbfs : [choices.lineUpDbfs],
    pilotAttenuationAtLeastDb: choices.pilotAttenuationAtLeastDb ?? db(Math.max(...lifted)),
    keepLossAtMostDb: choices.keepLossLimitDb ?? db(1),
    riseAtMostDb: db(0.1),
  };
};
