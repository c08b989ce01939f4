import type { FilterType } from '../filters/filter.js';
import { type Knob, knobNames } from '../model/knob.js';
import type { OscParameter } from '../model/target.js';
import { typeWords } from '../model/words.js';
import type { Scale, ScaleSetting } from '../osc/encodings/encoding.js';
import { nearestOn } from '../osc/encodings/encoding.js';
import { fail, ok, type Result } from '../units/result.js';
import type { AddressMap, MappedSlot } from './address-map.js';

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
export const knobScales = ({ dials }: MappedSlot, type: FilterType): readonly KnobScale[] =>
  knobNames.flatMap((knob) => {
    const dial = dials.get(knob);
    return dial ? [{ knob, scale: dial.scaleAs(type) }] : [];
  });

/** The step nearest to a value that may lie anywhere. */
const nearestIndex = (scale: Scale, value: number): number => {
  const nearest = nearestOn(scale, value);
  if (!nearest.ok) throw new RangeError(`no step is near ${value}: ${nearest.error}`);
  return nearest.value;
};

/** How a parameter stands; null for what the slot lacks and for a type that the desk does not count. */
export const slotSetting = (slot: MappedSlot, state: SlotState, name: OscParameter): ScaleSetting | null => {
  const scale = slot.dials.get(name)?.scaleAs(state.type);
  if (!scale) return null;
  if (name === 'on') return scale.at(state.on ? 1 : 0);
  const index = name === 'type' ? slot.counted.indexOf(state.type) : (state.steps[name] ?? -1);
  return index < 0 ? null : scale.at(index);
};

/** The state under another type: knobs whose grid is another one there go to its nearest step. */
export const underType = (slot: MappedSlot, state: SlotState, type: FilterType): SlotState => {
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
  slot: MappedSlot,
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

/** The step at a share of the way from the bottom stop to the top stop, as far as values go, not steps. */
const indexAt = (scale: Scale, share: number): number => {
  const bottom = scale.at(0).value ?? 0;
  const top = scale.at(scale.count - 1).value ?? 0;
  const value =
    scale.measure === 'ratio' ? bottom * (top / bottom) ** share : bottom + (top - bottom) * share;
  return nearestIndex(scale, value);
};

/** Where knobs rest while nobody has turned them, frequencies aside. */
const restingValues: Readonly<Record<Exclude<Knob, 'frequency'>, number>> = {
  q: 1,
  bandwidth: 1,
  gain: 0,
  slope: 12,
};

/** A slot of a type, each knob at the step that is chosen for it. */
const slotWith = (
  slot: MappedSlot,
  on: boolean,
  type: FilterType,
  choose: (knob: Knob, scale: Scale) => number,
): SlotState => ({
  on,
  type,
  steps: Object.fromEntries(
    knobScales(slot, type).map(({ knob, scale }) => [knob, choose(knob, scale)] as const),
  ),
});

/** The types a slot can be told to have, and be asked for. */
export const tellableTypes = ({ types, counted, dials }: MappedSlot): readonly FilterType[] =>
  dials.has('type') ? types.filter((type) => counted.includes(type)) : types;

const firstTypeOf = (slot: MappedSlot): FilterType => {
  const type = tellableTypes(slot)[0] ?? slot.types[0];
  if (type === undefined) throw new RangeError(`slot ${slot.id} has no type`);
  return type;
};

/** A desk as it is switched on: every slot off, flat, of its first type, frequencies spread over the slots. */
export const initialState = ({ banks, slots }: AddressMap): DeskState => {
  const bank = slots.map((slot, at) =>
    slotWith(slot, false, firstTypeOf(slot), (knob, scale) =>
      knob === 'frequency'
        ? indexAt(scale, (at + 1) / (slots.length + 1))
        : nearestIndex(scale, restingValues[knob]),
    ),
  );
  return banks.map(() => bank);
};

/** A desk that others have worked on: anything it can be set to. `random` gives numbers within [0, 1). */
export const scatteredState = ({ banks, slots }: AddressMap, random: () => number): DeskState =>
  banks.map(() =>
    slots.map((slot) => {
      const types = tellableTypes(slot);
      const type = types[Math.floor(random() * types.length)] ?? firstTypeOf(slot);
      return slotWith(slot, random() < 0.5, type, (_, scale) => indexAt(scale, random()));
    }),
  );
