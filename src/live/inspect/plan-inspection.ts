import type { Desk } from '../../model/desk.js';
import { allOf, type Outcome } from '../../model/problem.js';
import type { FmStereoSystem, Mix, Rig } from '../../model/rig.js';
import { slotParameters } from '../../osc/slot-parameters.js';
import { ok } from '../../units/result.js';
import { type MixPlan, planMix, type SlotPlan } from '../plan/plan.js';

/** What is to be read of one mix, and the system it feeds. */
export interface MixInspection {
  readonly mix: Mix;
  readonly plan: MixPlan;
  readonly system: FmStereoSystem;
}

/** Every slot of some outputs, with nothing wanted of it. */
const everySlot =
  (mix: string, desk: Desk) =>
  (outputs: readonly number[]): Outcome<readonly SlotPlan[]> =>
    allOf(
      outputs.flatMap((output) =>
        desk.slots.map((slot): Outcome<SlotPlan> => {
          const parameters = slotParameters(slot, output, desk);
          return parameters.ok
            ? ok({ mix, output, slot, parameters: parameters.value, wanted: new Map() })
            : parameters;
        }),
      ),
    );

/**
 * What to read of a rig as it stands on a desk: every slot of every mix that feeds an FM stereo link, in order, of
 * one leg where both share their filters. Nothing is wanted there, so nothing would be written. The other mixes are
 * not addressed at all.
 */
export const planInspection = (rig: Rig, desk: Desk): Outcome<readonly MixInspection[]> =>
  allOf(
    rig.mixes.flatMap((mix, index): readonly Outcome<MixInspection>[] => {
      const system = rig.systems[mix.feeds];
      if (system?.link !== 'fm-stereo') return [];
      const plan = planMix(mix, desk, `mixes[${index}]`, everySlot(mix.name, desk));
      return [plan.ok ? ok({ mix, plan: plan.value, system }) : plan];
    }),
  );
