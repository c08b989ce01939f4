import type { Outcome, Problem } from '../model/problem.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import type { Layout } from './address-map.js';
import { initialState } from './initial.js';
import { readFields, readList, stateProblem, type Tell } from './read-fields.js';
import { readSlot } from './read-slot.js';
import { type DeskState, slotOfState } from './slot-state.js';

const format = 'bandwright-standin-state/1';

/** Why a document is no state of this desk at all; null where it says that it is one. */
const strangeness = (value: unknown, id: string): Problem | null => {
  const told = typeof value === 'object' && value !== null ? (value as { format?: unknown }) : {};
  if (told.format !== format) {
    const allowed = `"${format}" is one, as standin --json prints it at its end`;
    return stateProblem('format', `${quote(told.format ?? value)} is no state of a stand-in; ${allowed}.`);
  }
  const { target } = told as { target?: unknown };
  return target === id
    ? null
    : stateProblem('target', `This is the state of ${quote(target)}; the target here is ${quote(id)}.`);
};

/** Reads what a state tells of one set of filters into a desk's state. */
const readBank = (value: unknown, layout: Layout, state: DeskState, path: string, tell: Tell): DeskState => {
  const fields = readFields(value, ['outputs', 'slots'], path, tell);
  if (!fields) return state;
  const outputs = JSON.stringify(fields.outputs);
  const bank = layout.banks.findIndex((legs) => JSON.stringify(legs) === outputs);
  if (bank < 0) {
    const mend = `as in ${quote(layout.banks[0])} is allowed`;
    tell(`${path}.outputs`, `${quote(fields.outputs)} are no outputs with filters of their own; ${mend}.`);
    return state;
  }
  return readList(fields.slots, `${path}.slots`, tell).reduce<DeskState>((before, told, index) => {
    const here = `${path}.slots[${index}]`;
    const id = (told as { id?: unknown } | null)?.id;
    const at = layout.slots.findIndex((slot) => slot.id === id);
    const slot = layout.slots[at];
    if (!slot) {
      const ids = layout.slots.map((each) => quote(each.id)).join(', ');
      tell(`${here}.id`, `${quote(id)} is no slot of this desk; there are ${ids}.`);
      return before;
    }
    const read = readSlot(told, slot, slotOfState(before, bank, at), here, tell);
    return before.with(bank, (before[bank] ?? []).with(at, read));
  }, state);
};

/**
 * Reads a state as `snapshotOf` writes it, for a desk of the same target. What it does not tell is as on a desk
 * that is switched on. Problems: anything it tells that the desk has not.
 */
export const readState = (value: unknown, layout: Layout): Outcome<DeskState> => {
  const strange = strangeness(value, layout.desk.target.id);
  if (strange) return fail([strange]);
  const problems: Problem[] = [];
  const tell: Tell = (path, told) => {
    problems.push(stateProblem(path, told));
  };
  // The event's name is there where the last line of standin --json is given back as it is.
  const fields = readFields(value, ['format', 'target', 'filters', 'event'], '', tell);
  const banks = fields ? readList(fields.filters, 'filters', tell) : [];
  const state = banks.reduce<DeskState>(
    (before, told, index) => readBank(told, layout, before, `filters[${index}]`, tell),
    initialState(layout),
  );
  return problems.length > 0 ? fail(problems) : ok(state);
};
