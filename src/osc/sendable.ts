import { type Desk, type DeskSlot, type DeskSlotType, filterOf } from '../model/desk.js';
import { displayValue } from '../model/display.js';
import { knobNames } from '../model/knob.js';
import type { Problem } from '../model/problem.js';
import type { Osc } from '../model/target.js';
import { step } from '../units/quantity.js';
import { filterMessages, type SentFilter } from './recipe-messages.js';
import { slotParameters } from './slot-parameters.js';

/** So many steps of a stepless knob are tried, evenly over all of it; of other knobs every one. */
const mostSteps = 2000;

/** Filters of a slot's type in which every step of every knob comes once. */
const filtersOf = (slot: DeskSlot, slotType: DeskSlotType, { target }: Desk): readonly SentFilter[] => {
  const knobs = knobNames.flatMap((knob) => {
    const grid = slotType.grids[knob];
    return grid ? [{ knob, grid }] : [];
  });
  const most = Math.min(mostSteps, Math.max(...knobs.map(({ grid }) => grid.count)));
  return Array.from({ length: most }, (_, at): SentFilter => {
    const at1 = most === 1 ? 0 : at / (most - 1);
    const steps = knobs.map(({ knob, grid }) => {
      const index = grid.count <= most ? Math.min(at, grid.count - 1) : Math.round(at1 * (grid.count - 1));
      const display = displayValue(knob, grid.valueAt(step(index)), target.display);
      return [knob, { index, of: grid.count, display }] as const;
    });
    const { type: _type, ...set } = filterOf(
      slotType,
      Object.fromEntries(steps.map(([knob, { index }]) => [knob, step(index)])),
    );
    return { slot: slot.id, type: slotType.type, set, steps: Object.fromEntries(steps) };
  });
};

/**
 * Why a push to a desk would be refused for some filter that its slots can be set to: something that OSC does not reach,
 * a step that its type of number cannot carry. Each is told once. Problems: as `slotParameters` and `filterMessages`.
 */
export const unsendable = (desk: Desk, osc: Osc): readonly Problem[] => {
  const told = new Map<string, Problem>();
  const tell = (problems: readonly Problem[]): void => {
    for (const each of problems) if (!told.has(each.path)) told.set(each.path, each);
  };
  const tried = new Set<string>();
  desk.slots.forEach((slot, at) => {
    // Slots that are alike differ in nothing but their addresses, which the rules of a target see to.
    const { types, typeOrder } = desk.target.slots[at] ?? {};
    const key = JSON.stringify([types, typeOrder]);
    if (tried.has(key)) return;
    tried.add(key);
    const parameters = slotParameters(slot, 1, desk);
    if (!parameters.ok) {
      tell(parameters.error);
      return;
    }
    for (const slotType of slot.types.values()) {
      for (const placed of filtersOf(slot, slotType, desk)) {
        const messages = filterMessages({ mix: '', output: 1, placed, path: '' }, { ...desk.target, osc });
        if (!messages.ok) tell(messages.error);
      }
    }
  });
  return [...told.values()];
};
