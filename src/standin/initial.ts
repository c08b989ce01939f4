import type { FilterType } from '../filters/filter.js';
import type { Knob } from '../model/knob.js';
import type { Scale } from '../osc/encodings/encoding.js';
import type { Layout, LayoutSlot } from './address-map.js';
import { type DeskState, knobScales, nearestIndex, type SlotState } from './slot-state.js';

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
  slot: LayoutSlot,
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
export const tellableTypes = ({ types, counted, dials }: LayoutSlot): readonly FilterType[] =>
  dials.has('type') ? types.filter((type) => counted.includes(type)) : types;

const firstTypeOf = (slot: LayoutSlot): FilterType => {
  const type = tellableTypes(slot)[0] ?? slot.types[0];
  if (type === undefined) throw new RangeError(`slot ${slot.id} has no type`);
  return type;
};

/** A desk as it is switched on: every slot off, flat, of its first type, frequencies spread over the slots. */
export const initialState = ({ banks, slots }: Layout): DeskState => {
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
export const scatteredState = ({ banks, slots }: Layout, random: () => number): DeskState =>
  banks.map(() =>
    slots.map((slot) => {
      const types = tellableTypes(slot);
      const type = types[Math.floor(random() * types.length)] ?? firstTypeOf(slot);
      return slotWith(slot, random() < 0.5, type, (_, scale) => indexAt(scale, random()));
    }),
  );
