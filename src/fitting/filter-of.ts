import type { Filter } from '../filters/filter.js';
import type { DeskSlotType } from '../model/desk.js';
import { type Knob, knobNames, knobs } from '../model/knob.js';
import type { Step } from '../units/quantity.js';

/** The filter a slot makes with its knobs at these steps. */
export const filterOf = (slotType: DeskSlotType, steps: Readonly<Partial<Record<Knob, Step>>>): Filter => {
  const values = Object.fromEntries(
    knobNames.flatMap((knob) => {
      const grid = slotType.grids[knob];
      const index = steps[knob];
      return grid && index !== undefined ? [[knobs[knob].value, grid.valueAt(index)] as const] : [];
    }),
  );
  const family = slotType.grids.slope ? { family: slotType.family ?? 'butterworth' } : {};
  return { type: slotType.type, ...values, ...family } as unknown as Filter;
};
