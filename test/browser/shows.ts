import { readFile } from 'node:fs/promises';
import demoRig from '../../src/cli/demo-rig.json' with { type: 'json' };
import type { SheetContext } from '../../src/exporters/exporter.js';
import { recipeJson } from '../../src/exporters/json.js';
import { sheet } from '../../src/exporters/sheet.js';
import type { Fit } from '../../src/fitting/fit.js';
import { defaultFitFor, fitNamed } from '../../src/fitting/registry.js';
import { makeDesk, makeIntentsRecipe, makeRecipe, readIntents, readRig } from '../../src/index.js';
import type { Desk } from '../../src/model/desk.js';
import type { Outcome } from '../../src/model/problem.js';
import type { Recipe } from '../../src/model/recipe.js';
import type { Rig } from '../../src/model/rig.js';
import type { Target } from '../../src/model/target.js';
import { loadTarget } from '../../src/node/targets.js';

/** A recipe as its JSON tells it, the desk it is for, and the sheet that is made of it. */
export interface Show {
  readonly recipe: Recipe;
  readonly desk: Desk;
  readonly html: string;
}

const made = <Value>(outcome: Outcome<Value>): Value => {
  if (!outcome.ok) throw new Error(outcome.error.map(({ message }) => message).join('\n'));
  return outcome.value;
};

export const deskOf = async (
  id: string,
  changes: (target: Target) => Target = (same) => same,
): Promise<Desk> => made(makeDesk(changes(made(await loadTarget(id)))));

/** What somebody would tell a sheet. */
export const told: SheetContext = {
  venue: 'The Old Mill, hall 2',
  date: 'Thursday 26 November',
  inputs: [{ name: 'shows/orchard, late.json', sha256: 'c0ffee'.repeat(11).slice(2) }],
  jsonCommand:
    "bandwright recipe 'shows/orchard, late.json' --target our-desk --format json --output recipe.json",
};

export const sheetOf = (recipe: Recipe, desk: Desk, context: SheetContext = told): string => {
  const content = made(sheet.content(recipe, { target: desk.target, desk, sheet: context }));
  if (typeof content !== 'string') throw new Error('bytes instead of text');
  return content;
};

const showOf = (recipe: Recipe, desk: Desk): Show => ({
  recipe: JSON.parse(recipeJson(recipe)),
  desk,
  html: sheetOf(recipe, desk),
});

/** The demo's rig, or a part of it. */
export const demo: Rig = made(readRig(JSON.stringify(demoRig), { source: 'the demo rig' }));

const fixtureText = (name: string): Promise<string> =>
  readFile(new URL(`../fixtures/${name}`, import.meta.url), 'utf8');

/** A rig for a desk with other slots than it was written for: any of them may be used. */
export const anySlots = (rig: Rig, mixes: number): Rig => ({
  ...rig,
  mixes: rig.mixes.slice(0, mixes).map(({ freeSlots, ...mix }) => mix),
});

export const rigOf24 = async (): Promise<Rig> =>
  made(readRig(await fixtureText('rig-24-mixes.json'), { source: 'rig-24-mixes.json' }));

/** Every knob at its own nearest step: at once, where it does not matter how steps are chosen. */
export const atOnce: Fit = fitNamed('nearest');

/** A rig on a desk, fitted as it is unless somebody chooses otherwise. */
export const fitted = (rig: Rig, desk: Desk, fit: Fit = defaultFitFor('rig')): Show =>
  showOf(made(makeRecipe(rig, desk, { fit, spareSlots: 0 })), desk);

/** Filters of an intents file on a desk; no pilot is guarded. */
export const fittedIntents = async (desk: Desk): Promise<Show> => {
  const intents = made(readIntents(await fixtureText('intents.json'), { source: 'intents.json' }));
  return showOf(made(makeIntentsRecipe(intents, desk, defaultFitFor('intents'))), desk);
};

/** A desk with as many outputs as a rig may want. */
export const manyOutputs = (target: Target): Target => ({
  ...target,
  outputs: { ...target.outputs, count: 64 },
});

/** Recipes of every kind: met, of legs apart, short with filters missing, short with problems, of an intents file. */
const makeShows = async (): Promise<Readonly<Record<string, Show>>> => ({
  demo: fitted(demo, await deskOf('cut-section')),
  many: fitted(anySlots(await rigOf24(), 24), await deskOf('log-179', manyOutputs)),
  legs: fitted(anySlots(demo, 2), await deskOf('two-legs')),
  graphic: fitted(anySlots(demo, 10), await deskOf('graphic-31')),
  top: fitted(anySlots(demo, 2), await deskOf('top-18')),
  intents: await fittedIntents(await deskOf('cut-section')),
});

let known: ReturnType<typeof makeShows> | undefined;

/** They are made once for all test files of a process. */
export const shows = (): ReturnType<typeof makeShows> => {
  known ??= makeShows();
  return known;
};
