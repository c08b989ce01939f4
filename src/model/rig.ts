import type { Db, DbPerOctave, Hz } from '../units/quantity.js';
import type { Intent, ProtectiveRole } from './intent.js';

/** The kinds of link: analogue FM stereo, which has a pilot, and two that have none. */
export const links = ['fm-stereo', 'digital', 'wired'] as const;

/** One of the kinds. */
export type Link = (typeof links)[number];

/** An analogue FM stereo link: audio limits as its maker states them, and a pilot tone. */
export interface FmStereoSystem {
  readonly link: 'fm-stereo';
  readonly title?: string;
  readonly audioLowHz: Hz;
  readonly audioHighHz: Hz;
  /** 19 kHz where the rig does not say. */
  readonly pilotHz?: Hz;
  /** Not known unless the rig says: then every usual value is worked out and the worst one judged by. */
  readonly preEmphasisMicroseconds?: number;
  /** A low-pass in front of the transmitter's stereo encoder, Butterworth, and its slope; taken to have none unless known. */
  readonly encoderLowpassHz?: Hz;
  readonly encoderLowpassDbPerOctave?: DbPerOctave;
  /**
   * The level at which a 1 kHz sine, pre-emphasis included, takes 90 % of deviation; 0 dBFS is a full-scale sine.
   * Not known unless the rig says: then every usual one is worked out and told as a range.
   */
  readonly lineUpDbfs?: Db;
}

/** A link without a pilot: nothing to guard. */
export interface PlainSystem {
  readonly link: 'digital' | 'wired';
  readonly title?: string;
  readonly audioLowHz?: Hz;
  readonly audioHighHz?: Hz;
}

/** One kind of in-ear link, as a rig tells it. */
export type System = FmStereoSystem | PlainSystem;

/** A desk output, or a left/right pair, and the system it feeds. */
export interface Mix {
  readonly name: string;
  readonly outputs: readonly number[];
  readonly feeds: string;
  /** The slots that may be used, by their ids on the target; every slot where the rig does not say. */
  readonly freeSlots?: readonly string[];
}

/** What the guard is to hold, where the rig asks for something else than the usual. */
export interface GuardWishes {
  readonly windowHz?: Hz;
  readonly keepLowHz?: Hz;
  readonly keepHighHz?: Hz;
  /** A hard limit on what the music may lose. */
  readonly keepLossAtMostDb?: Db;
  /** The most it may lose to reach the attenuation asked, where no hard limit is stated. */
  readonly keepLossToReachDb?: Db;
  readonly pilotAttenuationAtLeastDb?: Db;
}

/** The show's in-ear systems and the mixes that feed them. */
export interface Rig {
  readonly format: 'bandwright-rig/1';
  readonly title: string;
  readonly systems: Readonly<Record<string, System>>;
  readonly mixes: readonly Mix[];
  /** Filters asked for on every fm-stereo mix: one with a protective role replaces the derived one. */
  readonly intents?: readonly Intent[];
  /** Protective filters not wanted. */
  readonly leaveOut?: readonly ProtectiveRole[];
  readonly guard?: GuardWishes;
}
