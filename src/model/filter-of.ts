import type { Filter } from '../filters/filter.js';
import type { Step } from '../units/quantity.js';
import type { DeskSlotType } from './desk.js';
import { type Knob, knobNames, knobs } from './knob.js';

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
