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

const asShipped = (target: Target): Target => target;

const deskOf = async (id: string, change: (target: Target) => Target): Promise<Desk> => {
  const target = await loadTarget(id);
  if (!target.ok) throw new Error(JSON.stringify(target.error));
  const desk = makeDesk(change(target.value));
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

/** Nothing writes to a desk or a recipe once it is made: those that many tests ask for are made once. */
const desks = new Map<string, Promise<Desk>>();
const recipes = new WeakMap<Desk, Map<Rig, Recipe>>();

/** A shipped target as a desk, changed where a test needs it. */
export const shippedDesk = (id: string, change = asShipped): Promise<Desk> => {
  if (change !== asShipped) return deskOf(id, change);
  const desk = desks.get(id) ?? deskOf(id, change);
  desks.set(id, desk);
  return desk;
};

/** The rig's recipe on a desk, every knob at its nearest step. */
export const recipeOn = (desk: Desk, on: Rig = rig): Recipe => {
  const known = recipes.get(desk) ?? new Map<Rig, Recipe>();
  const recipe = known.get(on) ?? nearestOn(desk, on);
  recipes.set(desk, known.set(on, recipe));
  return recipe;
};

const nearestOn = (desk: Desk, on: Rig): Recipe => {
  const recipe = makeRecipe(on, desk, { fit: nearest, spareSlots: 0 });
  if (!recipe.ok) throw new Error(JSON.stringify(recipe.error));
  return recipe.value;
};
