import type { Desk } from '../model/desk.js';
import type { Outcome } from '../model/problem.js';
import type { FmStereoSystem, Mix, Rig } from '../model/rig.js';
import { slotParameters } from '../osc/slot-parameters.js';
import { fail, ok } from '../units/result.js';
import { mixOnDesk } from './mix-on-desk.js';
import type { MixPlan, SlotPlan } from './plan.js';

/** What is to be read of one mix, and the system it feeds. */
export interface MixInspection {
  readonly plan: MixPlan;
  readonly system: FmStereoSystem;
}

const planSlots = (name: string, outputs: readonly number[], desk: Desk): Outcome<readonly SlotPlan[]> => {
  const plans = outputs.flatMap((output) =>
    desk.slots.map((slot): Outcome<SlotPlan> => {
      const parameters = slotParameters(slot, output, desk);
      return parameters.ok
        ? ok({ mix: name, output, slot, parameters: parameters.value, wanted: new Map() })
        : parameters;
    }),
  );
  const problems = plans.flatMap((plan) => (plan.ok ? [] : plan.error));
  return problems.length > 0 ? fail(problems) : ok(plans.flatMap((plan) => (plan.ok ? [plan.value] : [])));
};

const planMix = (mix: Mix, desk: Desk, path: string): Outcome<MixPlan> => {
  const place = mixOnDesk(mix, desk, path);
  if (!place.ok) return place;
  const slots = planSlots(mix.name, place.value.writeTo, desk);
  if (!slots.ok) return slots;
  const { name, outputs } = mix;
  return ok({ name, outputs, nameAddresses: place.value.nameAddresses, slots: slots.value });
};

/**
 * What to read of a rig as it stands on a desk: every slot of every mix that feeds an FM stereo link, in order, of
 * one leg where both share their filters. Nothing is wanted there, so nothing would be written. The other mixes are
 * not addressed at all.
 */
export const planInspection = (rig: Rig, desk: Desk): Outcome<readonly MixInspection[]> => {
  const plans = rig.mixes.flatMap((mix, index): readonly Outcome<MixInspection>[] => {
    const system = rig.systems[mix.feeds];
    if (system?.link !== 'fm-stereo') return [];
    const plan = planMix(mix, desk, `mixes[${index}]`);
    return [plan.ok ? ok({ plan: plan.value, system }) : plan];
  });
  // What is wrong with the target is the same for every mix.
  const problems = new Map(
    plans
      .flatMap((plan) => (plan.ok ? [] : plan.error))
      .map((found) => [`${found.path}\n${found.message}`, found]),
  );
  return problems.size > 0
    ? fail([...problems.values()])
    : ok(plans.flatMap((plan) => (plan.ok ? [plan.value] : [])));
};
