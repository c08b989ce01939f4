import type { Desk, DeskSlot } from '../../model/desk.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { OscParameter, Target } from '../../model/target.js';
import type { OscArgument } from '../../osc/message.js';
import { type NamePlace, namePlacesOf, outputsToWrite } from '../../osc/mix-on-target.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { didYouMean } from '../../units/suggest.js';

/** What one parameter is to be. */
export interface Wanted {
  readonly argument: OscArgument;
  /** As the desk shows it; null where the target does not know such a value. */
  readonly display: string | null;
  /** Whether the nearest step will do, as for a recipe; what was found is put back to the last digit. */
  readonly byStep: boolean;
  /** How far off a gain may be read that is only on the way to another. */
  readonly nearDb?: number;
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
  /** What its outputs are to be called there, in order; null for one that may go by any name. */
  readonly outputNames: readonly (string | null)[];
  readonly slots: readonly SlotPlan[];
}

/** Plans a mix from the slots of the outputs it is written to. `path` names the mix in its file. */
export const planMix = (
  { name, outputs }: Pick<MixPlan, 'name' | 'outputs'>,
  { target }: Desk,
  path: string,
  planSlots: (outputs: readonly number[]) => Outcome<readonly SlotPlan[]>,
): Outcome<MixPlan> => {
  const written = outputsToWrite({ name, outputs }, target, path);
  if (!written.ok) return written;
  return mixPlan({ name, outputs }, target, planSlots(written.value));
};

/** The plan of a mix whose slots are planned already. Its outputs are to be called as it is, or as is told. */
export const mixPlan = (
  { name, outputs }: Pick<MixPlan, 'name' | 'outputs'>,
  target: Target,
  slots: Outcome<readonly SlotPlan[]>,
  outputNames: MixPlan['outputNames'] = outputs.map(() => name),
): Outcome<MixPlan> => {
  const namePlaces = namePlacesOf({ name, outputs }, target);
  if (!namePlaces.ok) return namePlaces;
  return slots.ok
    ? ok({ name, outputs, namePlaces: namePlaces.value, outputNames, slots: slots.value })
    : slots;
};

/** The plans of the mixes that are named, or all of them. Problem: `usage`, for a name there is none of. */
export const chooseMixes = (
  plans: readonly MixPlan[],
  only: readonly string[] | undefined,
): Outcome<readonly MixPlan[]> => {
  if (only === undefined) return ok(plans);
  const names = plans.map(({ name }) => name);
  const strange = only.find((name) => !names.includes(name));
  if (strange !== undefined) {
    const told = `No mix ${quote(strange)} is set here${didYouMean(strange, names) || '.'} There are: ${names.map((name) => quote(name)).join(', ')}; those to be left alone are not among them.`;
    return fail([problem('usage', 'only', told)]);
  }
  return ok(plans.filter(({ name }) => only.includes(name)));
};
