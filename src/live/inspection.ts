import type { Filter } from '../filters/filter.js';
import type { ProtectiveRole } from '../model/intent.js';
import type { GuardFigures } from '../multiplex/guard-figures.js';
import type { GuardScope } from '../multiplex/guard-scope.js';
import type { Cents, Db, Hz } from '../units/quantity.js';
import type { StandingFilter, Unclear } from './standing-filter.js';

/** A filter that stands in a slot. */
export interface StandingBand {
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
  | ({ readonly kind: 'cut-is-off'; readonly pilotDb: Db } & StandingBand)
  /** A cut beside the pilot: it takes `pilotDb` there, and centred on it would take `centredDb`. */
  | ({
      readonly kind: 'cut-misses';
      readonly offsetHz: Hz;
      readonly offsetCents: Cents;
      readonly pilotDb: Db;
      readonly centredDb: Db;
    } & StandingBand)
  /** A cut at the pilot that takes `pilotDb`, and that is not enough. */
  | ({ readonly kind: 'cut-too-weak'; readonly pilotDb: Db } & StandingBand)
  | ({ readonly kind: 'lifts-pilot'; readonly liftDb: Db } & StandingBand)
  /** The music loses `lossDb` in all; the band told loses most. */
  | ({ readonly kind: 'music-lost'; readonly lossDb: Db; readonly limitDb: Db } & StandingBand)
  /** Something is raised by `riseDb` in all; the band told raises most. */
  | ({ readonly kind: 'level-raised'; readonly riseDb: Db; readonly limitDb: Db } & StandingBand)
  /** None that is on; `offIn` is a slot where one stands off. */
  | { readonly kind: 'no-low-cut' | 'no-high-cut'; readonly offIn: string | null };

/** A finding, and whether it puts the pilot at risk or is told by the way. */
export type WeighedFinding = Finding & { readonly weight: 'risk' | 'notice' };

/** `at-risk`: less is taken at the pilot than is asked for. `not-known`: something could not be read or understood. */
export type PilotState = 'safe' | 'at-risk' | 'not-known';

/** One output as it stands, or a pair whose legs share their filters. */
export interface InspectedOutput {
  readonly output: number;
  readonly state: PilotState;
  readonly slots: readonly ({ readonly slot: string } & StandingFilter)[];
  /** For every way the desk may build its filters; none where something is not known. */
  readonly byRealisation: readonly ({ readonly id: string } & GuardFigures)[];
  readonly worst: GuardFigures | null;
  /** Whether every limit holds, those for the music too, as for a recipe. */
  readonly verdict: 'met' | 'falls-short' | null;
  /** Most important first. */
  readonly findings: readonly WeighedFinding[];
}

/** One mix as it stands: as badly off as its worst leg. */
export interface InspectedMix {
  readonly name: string;
  readonly outputs: readonly number[];
  readonly state: PilotState;
  readonly scope: GuardScope;
  readonly read: readonly InspectedOutput[];
  /** Outputs that go by another name on the desk; null for one that told none. */
  readonly otherNames: readonly { readonly output: number; readonly name: string | null }[];
}

/** What an inspection judges by. */
export interface InspectionContext {
  readonly scope: GuardScope;
  /** The protective filters that are wanted there at all. */
  readonly roles: readonly ProtectiveRole[];
}
