import type { Desk, DeskSlot } from '../model/desk.js';
import type { Intent } from '../model/intent.js';
import type { Knob } from '../model/knob.js';
import type { PlacedFilter, Recipe } from '../model/recipe.js';
import type { Db } from '../units/quantity.js';
import type { GuardTask } from './guard-task.js';

/**
 * Every fit there is, by name, in the order people are offered them. Apart from the fits themselves, so that the
 * command line can tell the names without loading any.
 */
export const fitNames = ['nearest', 'match', 'protect'] as const satisfies readonly Recipe['fit'][];

export type FitName = (typeof fitNames)[number];

/** What went otherwise than asked, before it is put into words. */
export type Shortcoming =
  | {
      readonly kind: 'no-place';
      readonly intent: Intent;
      readonly slotsFree: number;
      /** Whether the other filters were set for the curve with this one in it. */
      readonly isMadeUpFor?: boolean;
    }
  | { readonly kind: 'substitute'; readonly intent: Intent; readonly placed: PlacedFilter }
  /** A cut of another family, or a single section where a slope was asked that takes more of them. */
  | { readonly kind: 'other-shape'; readonly intent: Intent; readonly placed: PlacedFilter }
  | {
      readonly kind: 'beyond-range';
      readonly intent: Intent;
      readonly placed: PlacedFilter;
      readonly knobs: readonly Knob[];
      /** Where the knobs end, as the desk shows it; where they stand, unless told. */
      readonly ends?: Readonly<Partial<Record<Knob, string>>>;
    }
  /** There was a place for it, and the pilot is better guarded without it. */
  | { readonly kind: 'left-out'; readonly intent: Intent };

/** A setting a person may prefer: gentler on the music, or stronger at the pilot. */
export interface Alternative {
  readonly kind: 'gentler' | 'stronger';
  /** The limit on loss it is the best within. */
  readonly withinDb: Db;
  /** Whether stating its own loss as the limit gives it, or better for no more. */
  readonly isHadByLimit: boolean;
  readonly filters: readonly PlacedFilter[];
}

/** The filters a fit chose, in the order of the desk's slots, and what it could not do as asked. */
export interface FitOutcome {
  readonly filters: readonly PlacedFilter[];
  readonly shortcomings: readonly Shortcoming[];
  readonly alternative?: Alternative | null;
  /** What a search could not settle; left out where the choice is proved to be the best. */
  readonly unproved?: {
    /** By how much more the pilot might be attenuated at most, had the search gone on. */
    readonly missedAtMostDb: number;
    /** How much less of the music might be lost at most. */
    readonly overspentAtMostDb: number;
  };
}

/** What a fit works on beside the intents. */
export interface FitContext {
  readonly desk: Desk;
  /** The slots it may use. */
  readonly slots: readonly DeskSlot[];
  /** The guard to serve; null where there is no pilot. */
  readonly guard: GuardTask | null;
  /** How many slots more than the intents need may be spent on further cuts near the pilot. */
  readonly spareSlots: number;
}

/** One way of choosing slots and steps: the plug-in of this room. Pure. Nothing outside asks which one it is. */
export interface Fit {
  readonly name: Recipe['fit'];
  readonly summary: string;
  /** Whether it serves a guard: then it has nothing to do for an intents file, which has none. */
  readonly needsGuard: boolean;
  /** The documents it is chosen for where nobody chooses. */
  readonly isDefaultFor: readonly FittedDocument[];
  /** The plainer fit its result is told beside; null where there is none plainer. */
  readonly comparedWith: Fit | null;
  /** Whether it may take longer than a person should have to wait without being able to stop it. */
  mayTakeLong(wishes: Pick<FitContext, 'spareSlots'>): boolean;
  fit(intents: readonly Intent[], context: FitContext): FitOutcome;
}

/** What can be fitted on a desk: a rig, which has pilots to guard, or an intents file, which has none. */
export type FittedDocument = 'rig' | 'intents';
