import type { CutFamily, Filter, FilterType } from '../filters/filter.js';
import type { Quantiser } from '../quantisers/quantiser.js';
import type { Step } from '../units/quantity.js';
import { type Knob, knobNames, knobs } from './knob.js';
import type { Target } from './target.js';

/** The knobs of a slot set to one type, each with its grid. A fixed value is a grid of one step. */
export interface DeskSlotType {
  readonly type: FilterType;
  readonly grids: Readonly<Partial<Record<Knob, Quantiser>>> & { readonly frequency: Quantiser };
  readonly family?: CutFamily;
}

/** One filter section of an output: its id on the desk, and what it can be switched to. */
export interface DeskSlot {
  readonly id: string;
  readonly types: ReadonlyMap<FilterType, DeskSlotType>;
  /** The order in which OSC counts this slot's types, where that differs from the order of all slots. */
  readonly typeOrder?: readonly FilterType[];
}

/** A target whose grids have been made: what fits work on. */
export interface Desk {
  readonly target: Target;
  readonly slots: readonly DeskSlot[];
}

/** The filter a slot makes with its knobs at these steps. */
export const filterOf = (slotType: DeskSlotType, steps: Readonly<Partial<Record<Knob, Step>>>): Filter => {
  const filter: Record<string, unknown> = { type: slotType.type };
  for (const knob of knobNames) {
    const grid = slotType.grids[knob];
    const index = steps[knob];
    if (grid && index !== undefined) filter[knobs[knob].value] = grid.valueAt(index);
  }
  if (slotType.grids.slope) filter.family = slotType.family ?? 'butterworth';
  return filter as unknown as Filter;
};
