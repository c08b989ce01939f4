import type { Fit } from '../fitting/fit.js';
import { curveDifference } from '../fitting/match/asked-curve.js';
import { nearest } from '../fitting/nearest/nearest.js';
import { placedFilter } from '../fitting/placement.js';
import type { Desk } from '../model/desk.js';
import type { IntentsDocument } from '../model/intent.js';
import { pairFault } from '../model/pairs.js';
import { type Outcome, problem } from '../model/problem.js';
import type { PlacedFilter, Recipe } from '../model/recipe.js';
import { formatDecibels, formatFrequency } from '../units/format.js';
import { fail, ok } from '../units/result.js';
import { evidenceNote, pairsNotes, recipeTarget, slotsNote } from './notes.js';
import { missingOf, tellShortcoming } from './tell-shortcoming.js';

const differenceOf = ({ intents }: IntentsDocument, filters: readonly PlacedFilter[], { target }: Desk) =>
  curveDifference(
    filters.map(({ type, set }) => placedFilter(type, set)),
    intents,
    target.realisations,
  );

/** Why the filters are there, and how close they come to the curve they are to make. */
const reasonOf = (
  document: IntentsDocument,
  filters: readonly PlacedFilter[],
  plain: readonly PlacedFilter[],
  desk: Desk,
): string => {
  const { differenceDb, atHz, realisation } = differenceOf(document, filters, desk);
  const plainDb = differenceOf(document, plain, desk).differenceDb;
  return [
    'filters asked for by an intents file;',
    `at most ${formatDecibels(differenceDb)} from the curve asked for, at ${formatFrequency(atHz)} if built as ${realisation}`,
    `(every knob at its own nearest step: ${formatDecibels(plainDb)})`,
  ].join(' ');
};

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
  const unpaired = pairFault(outputs, desk.target);
  if (unpaired !== null) return fail([problem('pair-unknown', 'outputs', unpaired)]);
  const context = { desk, slots: desk.slots, guard: null, spareSlots: 0 };
  const { filters, shortcomings } = fit.fit(document.intents, context);
  return ok({
    format: 'bandwright-recipe/1',
    rig: { title: document.title },
    target: recipeTarget(desk),
    fit: fit.name,
    assumptions: [slotsNote, ...pairsNotes([{ outputs }], desk), ...evidenceNote(desk)],
    mixes: [
      {
        name: document.title,
        outputs,
        system: null,
        link: null,
        treatment: 'as-asked',
        reason: reasonOf(document, filters, nearest.fit(document.intents, context).filters, desk),
        filters,
        guard: null,
        nearest: null,
        alternative: null,
        missing: missingOf(shortcomings),
      },
    ],
    problems: shortcomings.map((each) => tellShortcoming(each, 'mixes[0]', null)),
  });
};
