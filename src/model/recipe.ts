import type { CutFamily, FilterType } from '../filters/filter.js';
import type { GuardFigures } from '../guard/guard-figures.js';
import type { DbRange } from '../guard/pilot-to-programme.js';
import type { Cents, Db, DbPerOctave, Hz, Octaves, Q, Step } from '../units/quantity.js';
import type { Intent } from './intent.js';
import type { Knob } from './knob.js';
import type { Problem } from './problem.js';
import type { Link } from './rig.js';
import type { Evidence } from './target.js';

/** The values of one filter as the desk will hold them. */
export interface FilterValues {
  readonly frequencyHz: Hz;
  readonly q?: Q;
  readonly bandwidthOctaves?: Octaves;
  readonly gainDb?: Db;
  readonly slopeDbPerOctave?: DbPerOctave;
  readonly family?: CutFamily;
}

/** Where a knob stands: its step, how many there are, what the desk shows, clicks from either stop. */
export interface KnobPosition {
  readonly index: Step;
  readonly of: number;
  readonly display: string;
  readonly fromBottom: number;
  readonly fromTop: number;
}

/** How far what is set lies from what was asked; only what both of them tell. */
export interface PlacementError {
  readonly frequencyHz: Hz;
  readonly frequencyCents: Cents;
  readonly qRatio?: number;
  readonly gainDb?: Db;
  readonly slopeDbPerOctave?: DbPerOctave;
}

/** One filter of a recipe, on one slot. */
export interface PlacedFilter {
  readonly slot: string;
  readonly role: string;
  /** The type the slot is set to; `asked.type` where the desk has it, else the substitute a problem tells of. */
  readonly type: FilterType;
  readonly asked: Intent;
  readonly set: FilterValues;
  readonly steps: Readonly<Partial<Record<Knob, KnobPosition>>>;
  readonly error: PlacementError;
}

/** Pink noise in both channels alike: the programme a pilot is compared with. */
export interface PinkNoise {
  readonly kind: 'pink';
  /** RMS; 0 dBFS is a full-scale sine's. */
  readonly levelDbfs: Db;
  readonly lowHz: Hz;
  readonly highHz: Hz;
  readonly image: 'identical';
}

/** The guard of one mix: what was judged, the figures, and whether what was to hold holds. */
export interface Guard {
  readonly pilotHz: Hz;
  readonly windowHz: Hz;
  readonly keepLowHz: Hz;
  readonly keepHighHz: Hz;
  /** The usual pre-emphases, or the one the rig states; guardBandDb is the worst over them. */
  readonly preEmphasisMicroseconds: readonly number[];
  /** The usual line-ups, or the one the rig states. */
  readonly lineUpDbfs: readonly Db[];
  /** Those at which peaks of the programme would take more than the deviation there is. */
  readonly overDeviatingLineUpsDbfs: readonly Db[];
  readonly programme: PinkNoise;
  /** What `pilotToProgrammeDb` would be without any filter. */
  readonly unfilteredPilotToProgrammeDb: DbRange | null;
  readonly limits: {
    readonly pilotAttenuationAtLeastDb: Db;
    readonly keepLossAtMostDb: Db;
    /** What the filters as asked would cost, at least 1 dB; null where a limit is stated. */
    readonly keepLossAsAskedDb: Db | null;
    readonly riseAtMostDb: Db;
  };
  readonly byRealisation: readonly ({ readonly id: string } & GuardFigures)[];
  /** The least attenuation, the most loss, the most rise, the least of the others: each over realisations. */
  readonly worst: GuardFigures;
  readonly verdict: 'met' | 'falls-short';
}

/** `protect`: a pilot to guard; `leave-alone`: none; `as-asked`: an intents file's own filters. */
export type Treatment = 'protect' | 'leave-alone' | 'as-asked';

/** A filter asked for that is not set. */
export interface MissingFilter {
  readonly role: string;
  readonly type: FilterType;
  /** What was wanted. */
  readonly asked?: Intent;
  readonly why: 'no-place' | 'left-out';
}

/** The best setting within another limit on loss: gentler on the music than the one chosen, or stronger at the pilot. */
export interface RecipeAlternative {
  readonly kind: 'gentler' | 'stronger';
  readonly withinDb: Db;
  /** Whether stating its own loss as the limit gives it, or better for no more. */
  readonly isHadByLimit: boolean;
  readonly filters: readonly PlacedFilter[];
  readonly worst: GuardFigures;
}

/** What a recipe sets on one mix, and what comes of it. */
export interface RecipeMix {
  readonly name: string;
  /** Empty where an intents file was fitted without naming outputs. */
  readonly outputs: readonly number[];
  /** The system's id in the rig, and its link; null for an intents file. */
  readonly system: string | null;
  readonly link: Link | null;
  /** Where the link's audio ends, and the slots that were free, where the rig tells; recipes of earlier versions do not. */
  readonly audioHighHz?: Hz;
  readonly freeSlots?: readonly string[];
  readonly treatment: Treatment;
  readonly reason: string;
  readonly filters: readonly PlacedFilter[];
  /** Null where there is no pilot to guard. */
  readonly guard: Guard | null;
  /** What each knob at its own nearest step would have given; null where that is what was done, or no guard is. */
  readonly nearest: { readonly filters: readonly PlacedFilter[]; readonly worst: GuardFigures } | null;
  /** A setting a person may prefer to the one chosen; null where there is none, or no guard is. */
  readonly alternative: RecipeAlternative | null;
  /** Filters asked for that found no place, or are left out because the pilot is guarded better without them. */
  readonly missing: readonly MissingFilter[];
}

/** The fitted result: everything needed to dial it, push it, print it and check it. */
export interface Recipe {
  readonly format: 'bandwright-recipe/1';
  readonly rig: { readonly title: string };
  readonly target: {
    readonly id: string;
    readonly title: string;
    readonly stereo: 'legs-share' | 'legs-separate';
    readonly evidence: Evidence;
  };
  readonly fit: 'nearest' | 'match' | 'protect';
  /** What the files did not say and what was taken instead. */
  readonly assumptions: readonly Problem[];
  readonly mixes: readonly RecipeMix[];
  /** What could not be done as asked, what was done instead, and what it costs. */
  readonly problems: readonly Problem[];
}
