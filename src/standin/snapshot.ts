import type { FilterType } from '../filters/filter.js';
import type { Knob } from '../model/knob.js';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import type { AddressMap, MappedSlot } from './address-map.js';
import {
  type DeskState,
  initialState,
  type KnobScale,
  knobScales,
  type SlotState,
  slotOfState,
  tellableTypes,
  underType,
} from './slot-state.js';

/** Where a knob of a stand-in stands, and what it shows there. */
export interface StandinKnob {
  readonly index: number;
  readonly display: string;
}

/** How one slot stands. */
export interface StandinSlot {
  readonly id: string;
  readonly on: boolean;
  readonly type: FilterType;
  /** Every knob that OSC reaches, also those that the slot's type has no use for. */
  readonly knobs: Readonly<Partial<Record<Knob, StandinKnob>>>;
}

/** Everything a stand-in holds, as plain data in a fixed order: two desks that stand alike give the same JSON. */
export interface StandinState {
  readonly format: 'bandwright-standin-state/1';
  readonly target: string;
  readonly filters: readonly {
    /** The outputs whose filters these are: both of a pair where they share. */
    readonly outputs: readonly number[];
    readonly slots: readonly StandinSlot[];
  }[];
}

const slotSnapshot = (slot: MappedSlot, set: SlotState): StandinSlot => ({
  id: slot.id,
  on: set.on,
  type: set.type,
  knobs: Object.fromEntries(
    knobScales(slot, set.type).map(({ knob, scale }) => {
      const { index, text } = scale.at(set.steps[knob] ?? 0);
      return [knob, { index, display: text }];
    }),
  ),
});

/** What a desk holds, as data that `readState` reads. */
export const snapshotOf = ({ desk, banks, slots }: AddressMap, state: DeskState): StandinState => ({
  format: 'bandwright-standin-state/1',
  target: desk.target.id,
  filters: banks.map((outputs, bank) => ({
    outputs,
    slots: slots.map((slot, at) => slotSnapshot(slot, slotOfState(state, bank, at))),
  })),
});

type Fields = Readonly<Record<string, unknown>>;

/** Takes what is wrong with a state: where, and what stood there and is allowed. */
type Tell = (path: string, told: string) => void;

const stateProblem = (path: string, told: string): Problem => problem('standin-state-wrong', path, told);

/** An object's fields; null, and told, where it is none or has a field that nobody knows. */
const readFields = (value: unknown, known: readonly string[], path: string, tell: Tell): Fields | null => {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    tell(path, `${quote(value)} stands there; an object is allowed.`);
    return null;
  }
  const stray = Object.keys(value).find((name) => !known.includes(name));
  if (stray === undefined) return value as Fields;
  tell(path, `${quote(stray)} means nothing here; ${known.join(', ')} may stand. Take it out.`);
  return null;
};

/** A list's items; none, and told, where it is none. */
const readList = (value: unknown, path: string, tell: Tell): readonly unknown[] => {
  if (Array.isArray(value)) return value;
  tell(path, `${quote(value)} stands there; a list is allowed.`);
  return [];
};

/** The step a state tells of a knob; null, and told, where it is none. */
const readStep = (value: unknown, { scale }: KnobScale, path: string, tell: Tell): number | null => {
  const fields = readFields(value, ['index', 'display'], path, tell);
  if (!fields) return null;
  const { index, display } = fields;
  if (typeof index !== 'number' || !Number.isInteger(index) || index < 0 || index >= scale.count) {
    const allowed = `a whole number from 0 to ${scale.count - 1} is allowed`;
    tell(`${path}.index`, `${quote(index)} is no step of this knob; ${allowed}.`);
    return null;
  }
  const { text } = scale.at(index);
  if (display !== undefined && display !== text) {
    const mend = 'Correct the step, or take the display out.';
    tell(`${path}.display`, `Step ${index} shows ${quote(text)}, not ${quote(display)}. ${mend}`);
  }
  return index;
};

/** Reads what a state tells of one slot; what it does not tell stays as it was. */
const readSlot = (
  value: unknown,
  slot: MappedSlot,
  before: SlotState,
  path: string,
  tell: Tell,
): SlotState => {
  const fields = readFields(value, ['id', 'on', 'type', 'knobs'], path, tell);
  if (!fields) return before;
  const { on = before.on, type = before.type, knobs = {} } = fields;
  if (typeof on !== 'boolean') {
    tell(`${path}.on`, `${quote(on)} is neither true nor false.`);
    return before;
  }
  const types = tellableTypes(slot);
  if (!types.includes(type as FilterType)) {
    tell(`${path}.type`, `${quote(type)} is no type of this slot; there are ${types.join(', ')}.`);
    return before;
  }
  const typed = underType(slot, { ...before, on }, type as FilterType);
  const scales = knobScales(slot, typed.type);
  const told = readFields(
    knobs,
    scales.map(({ knob }) => knob),
    `${path}.knobs`,
    tell,
  );
  const steps = scales.flatMap((each) => {
    const { knob } = each;
    if (told?.[knob] === undefined) return [];
    const index = readStep(told[knob], each, `${path}.knobs.${knob}`, tell);
    return index === null ? [] : [[knob, index] as const];
  });
  return { ...typed, steps: { ...typed.steps, ...Object.fromEntries(steps) } };
};

const format = 'bandwright-standin-state/1';

/** Why a document is no state of this desk at all; null where it says that it is one. */
const strangeness = (value: unknown, id: string): Problem | null => {
  const told = typeof value === 'object' && value !== null ? (value as { format?: unknown }) : {};
  if (told.format !== format) {
    const allowed = `"${format}" is one: the snapshot a stand-in ends with`;
    return stateProblem('format', `${quote(told.format ?? value)} is no state of a stand-in; ${allowed}.`);
  }
  const { target } = told as { target?: unknown };
  return target === id
    ? null
    : stateProblem('target', `This is the state of ${quote(target)}; the target here is ${quote(id)}.`);
};

/** Reads what a state tells of one set of filters into a desk's state. */
const readBank = (value: unknown, map: AddressMap, state: DeskState, path: string, tell: Tell): DeskState => {
  const fields = readFields(value, ['outputs', 'slots'], path, tell);
  if (!fields) return state;
  const outputs = JSON.stringify(fields.outputs);
  const bank = map.banks.findIndex((legs) => JSON.stringify(legs) === outputs);
  if (bank < 0) {
    const mend = `as in ${quote(map.banks[0])} is allowed`;
    tell(`${path}.outputs`, `${quote(fields.outputs)} are no outputs with filters of their own; ${mend}.`);
    return state;
  }
  return readList(fields.slots, `${path}.slots`, tell).reduce<DeskState>((before, told, index) => {
    const here = `${path}.slots[${index}]`;
    const id = (told as { id?: unknown } | null)?.id;
    const at = map.slots.findIndex((slot) => slot.id === id);
    const slot = map.slots[at];
    if (!slot) {
      const ids = map.slots.map((each) => quote(each.id)).join(', ');
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
export const readState = (value: unknown, map: AddressMap): Outcome<DeskState> => {
  const strange = strangeness(value, map.desk.target.id);
  if (strange) return fail([strange]);
  const problems: Problem[] = [];
  const tell: Tell = (path, told) => {
    problems.push(stateProblem(path, told));
  };
  // The event's name is there where the last event a stand-in told is given back as it is.
  const fields = readFields(value, ['format', 'target', 'filters', 'event'], '', tell);
  const banks = fields ? readList(fields.filters, 'filters', tell) : [];
  const state = banks.reduce<DeskState>(
    (before, told, index) => readBank(told, map, before, `filters[${index}]`, tell),
    initialState(map),
  );
  return problems.length > 0 ? fail(problems) : ok(state);
};
