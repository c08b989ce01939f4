import type { DeskSlot } from '../../model/desk.js';
import type { OscParameter } from '../../model/target.js';
import type { OscArgument } from '../../osc/message.js';
import type { NamePlace } from '../../osc/mix-on-target.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';

/** What one parameter is to be. */
export interface Wanted {
  readonly argument: OscArgument;
  /** As the desk shows it; null where the target does not know such a value. */
  readonly display: string | null;
  /** Whether the nearest step will do, as for a recipe; what was found is put back to the last digit. */
  readonly byStep: boolean;
}

/** One slot of one output that is to be written to. */
export interface SlotPlan {
  readonly mix: string;
  readonly output: number;
  readonly slot: DeskSlot;
  /** Everything OSC reaches there: all of it is read and kept before anything is written. */
  readonly parameters: readonly SlotParameter[];
  readonly wanted: ReadonlyMap<OscParameter, Wanted>;
}

export interface MixPlan {
  readonly name: string;
  readonly outputs: readonly number[];
  /** Where the desk tells the names of its outputs, in order; empty where it does not. */
  readonly namePlaces: readonly NamePlace[];
  readonly slots: readonly SlotPlan[];
}
