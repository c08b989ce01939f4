import type { Recipe } from '../../../model/recipe.js';
import { overlappingOutputs } from '../overlapping-outputs.js';
import type { Rule } from '../rule.js';

/** No desk output belongs to two mixes of a recipe. */
export const outputsOfOneRecipeMix: Rule<Recipe> = {
  name: 'outputs-of-one-mix',
  check: ({ mixes }) => overlappingOutputs(outputsOfOneRecipeMix.name, mixes),
};
