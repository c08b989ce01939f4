import type { FilterType } from '../filters/filter.js';
import { type Knob, knobNames } from '../model/knob.js';
import type { OscParameter } from '../model/target.js';
import { typeWords } from '../model/words.js';
import type { Scale, Setting } from '../osc/encodings/encoding.js';
import { nearestOn } from '../osc/encodings/engineering.js';
import { fail, ok, type Result } from '../units/result.js';
import type { LayoutSlot } from './address-map.js';

/** How one slot is set. A knob keeps its step while the slot is of a type that has no use for it. */
export interface SlotState {
  readonly on: boolean;
  readonly type: FilterType;
  /** One step for each knob that OSC reaches. */
  readonly steps: Readonly<Partial<Record<Knob, number>>>;
}

/** Every set of filters, and its slots. */
export type DeskState = readonly (readonly SlotState[])[];

/** One slot of one set of filters, both counted from 0. */
export const slotOfState = (state: DeskState, bank: number, slot: number): SlotState => {
  const found = state[bank]?.[slot];
  if (!found) throw new RangeError(`there is no slot ${slot} in set ${bank}`);
  return found;
};

/** A knob that a slot has, and its scale under a type. */
export interface KnobScale {
  readonly knob: Knob;
  readonly scale: Scale;
}

/** Every knob of a slot that OSC reaches, in the order people dial them. */
export const knobScales = ({ dials }: LayoutSlot, type: FilterType): readonly KnobScale[] =>
  knobNames.flatMap((knob) => {
    const dial = dials.get(knob);
    return dial ? [{ knob, scale: dial.scaleAs(type) }] : [];
  });

/** The step nearest to a value that may lie anywhere. */
export const nearestIndex = (scale: Scale, value: number): number => {
  const nearest = nearestOn(scale, value);
  if (!nearest.ok) throw new RangeError(`no step is near ${value}: ${nearest.error}`);
  return nearest.value;
};

/** How a parameter stands; null for what the slot lacks and for a type that the desk does not count. */
export const settingOf = (slot: LayoutSlot, state: SlotState, name: OscParameter): Setting | null => {
  const scale = slot.dials.get(name)?.scaleAs(state.type);
  if (!scale) return null;
  if (name === 'on') return scale.at(state.on ? 1 : 0);
  const index = name === 'type' ? slot.counted.indexOf(state.type) : (state.steps[name] ?? -1);
  return index < 0 ? null : scale.at(index);
};

/** The state under another type: knobs whose grid is another one there go to its nearest step. */
export const underType = (slot: LayoutSlot, state: SlotState, type: FilterType): SlotState => {
  const before = new Map(knobScales(slot, state.type).map(({ knob, scale }) => [knob, scale]));
  const steps = knobScales(slot, type).map(({ knob, scale }) => {
    const value = before.get(knob)?.at(state.steps[knob] ?? 0).value;
    // On the same grid the nearest step to a step's value is that step.
    return [knob, nearestIndex(scale, value ?? 0)] as const;
  });
  return { ...state, type, steps: Object.fromEntries(steps) };
};

/** Sets one parameter to a step of its scale. The error says why the slot does not go there. */
export const withStep = (
  slot: LayoutSlot,
  state: SlotState,
  name: OscParameter,
  index: number,
): Result<SlotState, string> => {
  if (name === 'on') return ok({ ...state, on: index === 1 });
  if (name !== 'type') return ok({ ...state, steps: { ...state.steps, [name]: index } });
  const type = slot.counted[index];
  if (type === undefined) throw new RangeError(`there is no type ${index}`);
  return slot.types.includes(type)
    ? ok(underType(slot, state, type))
    : fail(`slot ${slot.id} cannot be a ${typeWords[type]}`);
};
