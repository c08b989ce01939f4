import type { FilterType } from '../filters/filter.js';
import type { Knob } from '../model/knob.js';
import type { Layout, LayoutSlot } from './address-map.js';
import { type DeskState, knobScales, type SlotState, slotOfState } from './slot-state.js';

/** Where a knob of a stand-in stands, and what it shows there. */
export interface StandinKnob {
  readonly index: number;
  readonly display: string;
}

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

const slotSnapshot = (slot: LayoutSlot, set: SlotState): StandinSlot => ({
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

export const snapshotOf = ({ desk, banks, slots }: Layout, state: DeskState): StandinState => ({
  format: 'bandwright-standin-state/1',
  target: desk.target.id,
  filters: banks.map((outputs, bank) => ({
    outputs,
    slots: slots.map((slot, at) => slotSnapshot(slot, slotOfState(state, bank, at))),
  })),
});
