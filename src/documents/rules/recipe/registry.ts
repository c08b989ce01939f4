import type { Recipe } from '../../../model/recipe.js';
import type { Rule } from '../rule.js';
import { knobPositions } from './knob-positions.js';
import { oneFilterASlot } from './one-filter-a-slot.js';
import { outputsOfOneRecipeMix } from './outputs-of-one-mix.js';

/** What holds for recipes, which may have been edited by hand since they were made. */
export const recipeRules: readonly Rule<Recipe>[] = [outputsOfOneRecipeMix, oneFilterASlot, knobPositions];
