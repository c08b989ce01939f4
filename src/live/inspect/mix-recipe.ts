import { guardTask } from '../../fitting/guard-task.js';
import { protect } from '../../fitting/protect/protect.js';
import type { Desk } from '../../model/desk.js';
import type { Problem } from '../../model/problem.js';
import { protectiveIntents } from '../../model/protection.js';
import type { FmStereoSystem, Mix, Rig } from '../../model/rig.js';
import { makeRecipe } from '../../recipes/make-recipe.js';
import { systemScope } from '../../recipes/rig-on-desk.js';
import type { InspectionContext, MixRecipe } from './inspection.js';

/** The limits a recipe would be made within, which hang on the filters asked for and on the desk. */
export const inspectionLimits = (
  system: FmStereoSystem,
  rig: Rig,
  { target }: Desk,
): Pick<InspectionContext, 'scope' | 'keepLossAsAskedDb'> => {
  const intents = protectiveIntents(system, rig);
  const { scope, lossLimits } = guardTask(intents, target.realisations, systemScope(system, rig.guard));
  return { scope, keepLossAsAskedDb: scope.isKeepLossStated ? null : lossLimits.usualDb };
};

/** What an inspection need not repeat of a recipe's assumptions: it tells the others itself. */
const recipesOwn: readonly string[] = ['slots-assumed-free', 'not-proved'];

/** The recipe of one mix of a rig that fits the desk, just as `bandwright recipe` makes it. */
export const mixRecipe = (
  mix: Mix,
  rig: Rig,
  desk: Desk,
  spareSlots: number,
): { readonly recipe: MixRecipe; readonly assumptions: readonly Problem[] } => {
  const made = makeRecipe({ ...rig, mixes: [mix] }, desk, { fit: protect, spareSlots });
  const fitted = made.ok ? made.value.mixes[0] : undefined;
  if (!made.ok || !fitted) throw new RangeError('a mix that was inspected does not fit its desk');
  const { assumptions } = made.value;
  const { filters, missing } = fitted;
  const free = desk.slots.filter(({ id }) => mix.freeSlots?.includes(id) ?? true);
  const cuts = filters.filter(({ role }) => /^pilot-cut(-\d+)?$/.test(role)).length;
  return {
    recipe: {
      filters,
      missing,
      isProved: !assumptions.some(({ code }) => code === 'not-proved'),
      // Where it does not even use those it may, one more is no help.
      hasSpareSlot:
        cuts > spareSlots &&
        free.some(
          ({ id, types }) =>
            !filters.some(({ slot }) => slot === id) && (types.has('peaking') || types.has('notch')),
        ),
      areSlotsListed: mix.freeSlots !== undefined,
      hasOtherSlots: free.length < desk.slots.length,
    },
    assumptions: assumptions.filter(({ code }) => recipesOwn.includes(code)),
  };
};
