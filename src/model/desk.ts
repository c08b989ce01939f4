import type { CutFamily, FilterType } from '../filters/filter.js';
import type { Quantiser } from '../quantisers/quantiser.js';
import type { Knob } from './knob.js';
import type { Target } from './target.js';

/** The knobs of a slot set to one type, each with its grid. A fixed value is a grid of one step. */
export interface DeskSlotType {
  readonly type: FilterType;
  readonly grids: Readonly<Partial<Record<Knob, Quantiser>>> & { readonly frequency: Quantiser };
  readonly family?: CutFamily;
}

export interface DeskSlot {
  readonly id: string;
  readonly types: ReadonlyMap<FilterType, DeskSlotType>;
}

/** A target whose grids have been made: what fits work on. */
export interface Desk {
  readonly target: Target;
  readonly slots: readonly DeskSlot[];
}
