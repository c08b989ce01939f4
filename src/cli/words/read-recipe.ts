import { readRecipe } from '../../documents/read.js';
import type { Desk } from '../../model/desk.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import { recipeDesk } from '../../node/desk/push.js';
import { readInput } from '../../node/read-input.js';
import { fail, ok } from '../../units/result.js';

/** A recipe and the desk it was made for. */
export interface RecipeOnDesk {
  readonly recipe: Recipe;
  readonly target: Desk;
  /** What the recipe is called in problems. */
  readonly source: string;
}

/** Reads a recipe and loads the desk it names, or the one asked for. */
export const readRecipeOnDesk = async (
  path: string,
  options: { readonly target?: string; readonly quantiser: readonly string[] },
): Promise<Outcome<RecipeOnDesk>> => {
  if (path === '-' && options.target === '-')
    return fail([problem('usage', '', 'Recipe and target cannot both come from standard input.')]);
  const input = await readInput(path);
  if (!input.ok) return input;
  const { source, bytes } = input.value;
  const read = readRecipe(bytes, {
    source,
    instead: {
      rig: 'Make one: bandwright recipe RIG --target T --format json --output RECIPE.json.',
      journal: 'To put back what it holds: bandwright restore.',
    },
  });
  if (!read.ok) return read;
  const recipe = read.value;
  const desk = await recipeDesk(recipe, options.target, options.quantiser);
  return desk.ok ? ok({ recipe, target: desk.value, source }) : desk;
};
