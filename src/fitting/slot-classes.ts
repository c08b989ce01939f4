import type { FilterType } from '../filters/filter.js';
import type { DeskSlot, DeskSlotType } from '../model/desk.js';
import { knobNames } from '../model/knob.js';

/** Slots that can all do the very same: which of them is used makes no difference to any response. */
export interface SlotClass {
  readonly slots: readonly DeskSlot[];
  readonly types: ReadonlyMap<FilterType, DeskSlotType>;
}

const sameType = (a: DeskSlotType, b: DeskSlotType | undefined): boolean =>
  b !== undefined && a.family === b.family && knobNames.every((knob) => a.grids[knob] === b.grids[knob]);

const sameSlot = (a: DeskSlot, b: DeskSlot): boolean =>
  a.types.size === b.types.size &&
  [...a.types].every(([type, slotType]) => sameType(slotType, b.types.get(type)));

/** Gathers slots into classes, in the order of the desk. */
export const slotClasses = (slots: readonly DeskSlot[]): readonly SlotClass[] => {
  const classes: { slots: DeskSlot[]; types: DeskSlot['types'] }[] = [];
  for (const slot of slots) {
    const found = classes.find(({ slots: [first] }) => first && sameSlot(slot, first));
    if (found) found.slots.push(slot);
    else classes.push({ slots: [slot], types: slot.types });
  }
  return classes;
};

/** Whether the desk has slots enough for filters on these classes, a slot each. */
export const slotsSuffice = (wanted: readonly SlotClass[]): boolean => {
  const counts = new Map<SlotClass, number>();
  for (const each of wanted) counts.set(each, (counts.get(each) ?? 0) + 1);
  return [...counts].every(([{ slots }, count]) => count <= slots.length);
};
