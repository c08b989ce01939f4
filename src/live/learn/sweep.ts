import type { FilterType } from '../../filters/filter.js';
import type { Desk } from '../../model/desk.js';
import { knobNames } from '../../model/knob.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import type { GridLearned } from './found.js';

/**
 * How many messages a plain sweep of an output would take: every value of every knob that OSC reaches, under every type
 * that a slot can be, written once and read once. Null where a grid's steps were not counted.
 */
export const sweepMessages = (
  { target }: Pick<Desk, 'target'>,
  slots: readonly { readonly id: string; readonly parameters: readonly SlotParameter[] }[],
  grids: ReadonlyMap<string, GridLearned>,
): number | null => {
  let values = 0;
  for (const { id, parameters } of slots) {
    const types = target.slots.find((each) => each.id === id)?.types ?? {};
    for (const type of Object.keys(types) as FilterType[]) {
      for (const knob of knobNames) {
        const name = types[type]?.[knob];
        if (typeof name !== 'string' || !parameters.some((each) => each.name === knob)) continue;
        const count = grids.get(name)?.count ?? null;
        if (count === null) return null;
        values += count;
      }
    }
  }
  return 2 * values;
};
