import { nearest } from '../../src/fitting/nearest/nearest.js';
import type { Desk } from '../../src/model/desk.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Recipe } from '../../src/model/recipe.js';
import type { Rig } from '../../src/model/rig.js';
import type { Target } from '../../src/model/target.js';
import { loadTarget } from '../../src/node/targets.js';
import { makeRecipe } from '../../src/recipes/make-recipe.js';
import { hz } from '../../src/units/quantity.js';

/** An invented show of four mixes: two on FM packs, one wired, one digital. */
export const rig: Rig = {
  format: 'bandwright-rig/1',
  title: 'Tin Lighthouse, matinee',
  systems: {
    packs: { link: 'fm-stereo', audioLowHz: hz(40), audioHighHz: hz(15000) },
    cable: { link: 'wired' },
    digital: { link: 'digital' },
  },
  mixes: [
    { name: 'Heron', outputs: [1, 2], feeds: 'packs' },
    { name: 'Drums', outputs: [3, 4], feeds: 'cable' },
    { name: 'Lark', outputs: [5], feeds: 'packs' },
    { name: 'Choir', outputs: [7, 8], feeds: 'digital' },
  ],
};

/** A shipped target as a desk, changed where a test needs it. */
export const shippedDesk = async (
  id: string,
  change: (target: Target) => Target = (target) => target,
): Promise<Desk> => {
  const target = await loadTarget(id);
  if (!target.ok) throw new Error(JSON.stringify(target.error));
  const desk = makeDesk(change(target.value));
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

/** The rig's recipe on a desk, every knob at its nearest step. */
export const recipeOn = (desk: Desk, on: Rig = rig): Recipe => {
  const recipe = makeRecipe(on, desk, { fit: nearest, spareSlots: 0 });
  if (!recipe.ok) throw new Error(JSON.stringify(recipe.error));
  return recipe.value;
};
