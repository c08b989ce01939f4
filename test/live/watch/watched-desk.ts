import { planPush } from '../../../src/live/plan/plan-push.js';
import { watchedMix } from '../../../src/live/watch/mix-watch.js';
import type { WatchTask } from '../../../src/live/watch/watch-state.js';
import type { SurveyedMix } from '../../../src/live/write/survey.js';
import type { Desk } from '../../../src/model/desk.js';
import type { OscParameter } from '../../../src/model/target.js';
import type { OscArgument } from '../../../src/osc/message.js';
import { recipeOn } from '../recipe-on.js';

/** One value of a mix: the slot by its id, the parameter by its name. */
export type Place = readonly [slot: string, parameter: OscParameter];

/** What reads otherwise than set; null for what did not answer. */
export type Otherwise = readonly (readonly [Place, OscArgument | null])[];

/** A show on a desk, to be watched. */
export const watchTaskOn = (desk: Desk, everyMs: number): WatchTask => {
  const recipe = recipeOn(desk);
  const plans = planPush(recipe, desk);
  if (!plans.ok) throw new Error(JSON.stringify(plans.error));
  const mixes = plans.value.flatMap((plan) => {
    const made = recipe.mixes.find(({ name }) => name === plan.name);
    return made ? [watchedMix(plan, made, desk)] : [];
  });
  return { desk, mixes, everyMs };
};

/** A mix as it reads where all of it stands as set, but for what is told. */
export const readingOf = (task: WatchTask, index: number, otherwise: Otherwise = []): SurveyedMix => {
  const plan = task.mixes[index]?.plan;
  if (!plan) throw new Error(`there is no mix ${index}`);
  const slots = plan.slots.map((slot) => {
    const found = new Map([...slot.wanted].map(([name, { argument }]) => [name, argument]));
    for (const [[id, parameter], argument] of otherwise) {
      if (id !== slot.slot.id) continue;
      if (argument) found.set(parameter, argument);
      else found.delete(parameter);
    }
    return { plan: slot, found };
  });
  return { plan, slots, names: [], problems: [], differs: false };
};
