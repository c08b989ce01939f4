import { readDocument } from '../../documents/read.js';
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
  const document = await readDocument(bytes, { source });
  if (!document.ok) return document;
  if (document.value.format !== 'bandwright-recipe/1') {
    const told =
      document.value.format === 'bandwright-rig/1'
        ? 'This is a rig; a recipe is needed. Make one: bandwright recipe RIG --target T --format json --output RECIPE.json.'
        : document.value.format === 'bandwright-journal/1'
          ? 'This is a journal; a recipe is needed. To put back what it holds: bandwright restore.'
          : `This is a ${document.value.format} file; a recipe is needed.`;
    return fail([{ ...problem('format-unexpected', 'format', told), source }]);
  }
  const recipe = document.value;
  const desk = await recipeDesk(recipe, options.target, options.quantiser);
  return desk.ok ? ok({ recipe, target: desk.value, source }) : desk;
};
