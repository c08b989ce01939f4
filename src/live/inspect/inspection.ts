import type { Filter } from '../../filters/filter.js';
import type { GuardFigures } from '../../guard/guard-figures.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { ProtectiveRole } from '../../model/intent.js';
import type { Problem } from '../../model/problem.js';
import type { MissingFilter, PlacedFilter } from '../../model/recipe.js';
import type { Cents, Db, Hz } from '../../units/quantity.js';
import type { SlotView } from '../plan/readback.js';
import type { OtherName } from '../write/names.js';
import type { StandingFilter, Unclear } from './standing-filter.js';

/** A filter that stands in a slot. */
export interface ActingFilter {
  readonly slot: string;
  readonly filter: Filter;
}

/**
 * Why the pilot of an output is at risk, or what else is worth hearing of. Every figure is the worst over the ways
 * the desk may build its filters, and, at the pilot, over its window; `pilotDb` counts what is taken there.
 */
export type Finding =
  /** Something is not known, so nothing can be promised. */
  | { readonly kind: 'unclear'; readonly slot: string; readonly unclear: readonly Unclear[] }
  /** Neither bell nor notch cuts near the pilot; whatever else cuts takes `pilotDb` there. */
  | { readonly kind: 'no-cut-near'; readonly pilotDb: Db }
  /** A cut near the pilot that is off; on, `pilotDb` would be taken by all together. */
  | ({ readonly kind: 'cut-is-off'; readonly pilotDb: Db } & ActingFilter)
  /** A cut beside the pilot: it takes `pilotDb` there, and centred on it would take `centredDb`. */
  | ({
      readonly kind: 'cut-misses';
      readonly offsetHz: Hz;
      readonly offsetCents: Cents;
      readonly pilotDb: Db;
      readonly centredDb: Db;
    } & ActingFilter)
  /** A cut at the pilot that takes `pilotDb`, and that is not enough. */
  | ({ readonly kind: 'cut-too-weak'; readonly pilotDb: Db } & ActingFilter)
  /** Where its recipe is known, `isReplaced` tells whether that sets the slot to something else. */
  | ({ readonly kind: 'lifts-pilot'; readonly liftDb: Db; readonly isReplaced?: boolean } & ActingFilter)
  /** The music loses `lossDb` in all; the filter told loses most. */
  | ({ readonly kind: 'music-lost'; readonly lossDb: Db; readonly limitDb: Db } & ActingFilter)
  /** Something is raised by `riseDb` in all; the filter told raises most. */
  | ({ readonly kind: 'level-raised'; readonly riseDb: Db; readonly limitDb: Db } & ActingFilter)
  /**
   * None that is on; `offIn` is a slot where one stands off. `recipe` is the one its recipe has, where nothing else acts
   * in that slot, or why it has none; left out where that is not known.
   */
  | {
      readonly kind: 'no-low-cut' | 'no-high-cut';
      readonly offIn: string | null;
      readonly recipe?: PlacedFilter | MissingFilter['why'];
    }
  /**
   * Every filter of its recipe stands. With them, and without what lifts the pilot besides (`hasLifts`), `pilotDb` is
   * taken there: where that is less than asked, this desk can do no better within what the music may lose.
   */
  | { readonly kind: 'as-recipe'; readonly pilotDb: Db; readonly hasLifts: boolean }
  /**
   * Its recipe has these filters besides those that stand; with them `pilotDb` would be taken, and `lossDb` lost, which
   * may be more than now. `inUse` are other filters that act in their slots, where nobody listed those as free.
   */
  | {
      readonly kind: 'recipe-sets';
      readonly filters: readonly PlacedFilter[];
      readonly inUse: readonly ActingFilter[];
      readonly pilotDb: Db;
      readonly lossDb: Db;
      readonly isMoreLost: boolean;
      readonly hasLifts: boolean;
    }
  /** With the filters of its recipe no more would be taken at the pilot: `pilotDb`. */
  | { readonly kind: 'recipe-no-better'; readonly pilotDb: Db; readonly hasLifts: boolean };

/** A finding, and whether it puts the pilot at risk or is told by the way. */
export type WeighedFinding = Finding & { readonly weight: 'risk' | 'notice' };

/** `at-risk`: less is taken at the pilot than is asked for. `not-known`: something could not be read or understood. */
export type PilotState = 'safe' | 'at-risk' | 'not-known';

/** How an output stands beside its recipe. */
export interface BesideRecipe {
  /** Whether all of it stands, slot by slot and step by step. */
  readonly stands: boolean;
  /** What of it does not stand. */
  readonly toSet: readonly PlacedFilter[];
  /** What would be taken at the pilot with all of it set and every other slot left as it is. */
  readonly pilotAttenuationDb: Db;
  /** What the music would then lose. */
  readonly keepLossDb: Db;
}

/** One output as it stands, or a pair whose legs share their filters. */
export interface InspectedOutput {
  readonly output: number;
  readonly state: PilotState;
  /** Every slot: what it amounts to, and what the desk shows of it; null where nothing came back. */
  readonly slots: readonly ({ readonly slot: string; readonly view: SlotView | null } & StandingFilter)[];
  /** For every way the desk may build its filters; none where something is not known. */
  readonly byRealisation: readonly ({ readonly id: string } & GuardFigures)[];
  readonly worst: GuardFigures | null;
  /** Whether every limit holds, those for the music too, as for a recipe. */
  readonly verdict: 'met' | 'falls-short' | null;
  /** Null where no recipe was made to compare it with. */
  readonly recipe: BesideRecipe | null;
  /** Most important first. */
  readonly findings: readonly WeighedFinding[];
}

/** One mix as it stands: as badly off as its worst leg. */
export interface InspectedMix {
  readonly name: string;
  readonly outputs: readonly number[];
  readonly state: PilotState;
  readonly scope: GuardScope;
  readonly keepLossAsAskedDb: Db | null;
  /** What it was compared with; null where nothing about it needed that. */
  readonly recipe: MixRecipe | null;
  readonly read: readonly InspectedOutput[];
  /** Outputs that go by another name on the desk; null for one that told none. */
  readonly otherNames: readonly OtherName[];
  /** What did not answer, or not as the target says. */
  readonly problems: readonly Problem[];
}

/** The recipe of a mix, as it would be made now, and what may get more out of the desk than that does. */
export interface MixRecipe {
  readonly filters: readonly PlacedFilter[];
  readonly missing: readonly MissingFilter[];
  /** Whether it is proved to be the best there is within its limits. */
  readonly isProved: boolean;
  /** Whether a further cut near the pilot may be of use, and a slot that may be used is left for it. */
  readonly hasSpareSlot: boolean;
  /** Whether the rig lists the slots that may be used. */
  readonly areSlotsListed: boolean;
  /** Whether the desk has slots besides those. */
  readonly hasOtherSlots: boolean;
}

/** What an inspection judges by: the limits a recipe would be made within. */
export interface InspectionContext {
  readonly scope: GuardScope;
  /** What the filters as asked would cost the music; null where a limit is stated. */
  readonly keepLossAsAskedDb: Db | null;
  /** The protective filters that are wanted there at all. */
  readonly roles: readonly ProtectiveRole[];
}
