import type { Desk } from '../model/desk.js';
import type { Recipe } from '../model/recipe.js';

/** What a recipe tells of the desk it is for. */
export const recipeTarget = ({ target }: Desk): Recipe['target'] => ({
  id: target.id,
  title: target.title,
  stereo: target.outputs.stereo,
  evidence: target.evidence,
});
