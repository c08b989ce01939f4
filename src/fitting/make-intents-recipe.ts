import type { Desk } from '../model/desk.js';
import type { IntentsDocument } from '../model/intent.js';
import { type Outcome, problem } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import { fail, ok } from '../units/result.js';
import type { Fit } from './fit.js';
import { evidenceNote, slotsNote } from './notes.js';
import { recipeTarget } from './recipe-target.js';
import { tellShortcoming } from './tell-shortcoming.js';

/** Fits an intents file on a desk, for the outputs named or for none in particular. No pilot is guarded. */
export const makeIntentsRecipe = (
  document: IntentsDocument,
  desk: Desk,
  fit: Fit,
  outputs: readonly number[] = [],
): Outcome<Recipe> => {
  const tooHigh = outputs.find((output) => output > desk.target.outputs.count);
  if (tooHigh !== undefined) {
    return fail([
      problem('output-unknown', 'outputs', `Output ${tooHigh}: this desk has ${desk.target.outputs.count}.`),
    ]);
  }
  const { bands, shortcomings } = fit.fit(document.intents, {
    desk,
    slots: desk.slots,
    scope: null,
    spareSlots: 0,
  });
  return ok({
    format: 'bandwright-recipe/1',
    rig: { title: document.title },
    target: recipeTarget(desk),
    fit: fit.name,
    assumptions: [slotsNote, ...evidenceNote(desk)],
    mixes: [
      {
        name: document.title,
        outputs,
        system: null,
        link: null,
        treatment: 'as-asked',
        reason: 'filters asked for by an intents file',
        bands,
        guard: null,
        nearest: null,
      },
    ],
    problems: shortcomings.map((each) => tellShortcoming(each, 'mixes[0]', null)),
  });
};
