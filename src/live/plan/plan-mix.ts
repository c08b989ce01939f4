import type { Desk } from '../../model/desk.js';
import type { Outcome } from '../../model/problem.js';
import type { Target } from '../../model/target.js';
import { namePlacesOf, outputsToWrite } from '../../osc/mix-on-target.js';
import { ok } from '../../units/result.js';
import type { MixPlan, SlotPlan } from './plan.js';

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

/** The plan of a mix whose slots are planned already. */
export const mixPlan = (
  { name, outputs }: Pick<MixPlan, 'name' | 'outputs'>,
  target: Target,
  slots: Outcome<readonly SlotPlan[]>,
): Outcome<MixPlan> => {
  const namePlaces = namePlacesOf({ name, outputs }, target);
  if (!namePlaces.ok) return namePlaces;
  return slots.ok ? ok({ name, outputs, namePlaces: namePlaces.value, slots: slots.value }) : slots;
};
