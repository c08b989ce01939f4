import { makeRecipe } from '../../fitting/make-recipe.js';
import { protect } from '../../fitting/protect/protect.js';
import { readRig } from '../../reading/read.js';
import demoRig from '../demo-rig.json' with { type: 'json' };
import type { ExitCode } from '../exit-code.js';
import { loadDesk } from '../load.js';
import { exporterNamed } from '../recipe/deliver.js';
import { recipeExitCode } from '../recipe/recipe-verdict.js';
import { stopOn } from '../run-command.js';
import type { Terminal } from '../terminal.js';

const demoTarget = 'cut-section';

const introduction = [
  `A demonstration: the rig of an invented show, fitted on the shipped target ${demoTarget}.`,
  'For your own: bandwright recipe RIG.json --target ID; bandwright targets list tells the ids.',
  '',
];

/** The work of `bandwright demo`. */
export const runDemo = async (
  options: { readonly json?: boolean },
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = options.json === true;
  const rig = await readRig(JSON.stringify(demoRig), { source: 'the demo rig' });
  if (!rig.ok) return stopOn(rig.error, terminal, json);
  const desk = await loadDesk(demoTarget, []);
  if (!desk.ok) return stopOn(desk.error, terminal, json);
  const recipe = makeRecipe(rig.value, desk.value, { fit: protect, spareSlots: 0 });
  if (!recipe.ok) return stopOn(recipe.error, terminal, json);
  const content = await exporterNamed(json ? 'json' : 'text').content(recipe.value, {
    target: desk.value.target,
  });
  if (!content.ok) return stopOn(content.error, terminal, json);
  for (const line of introduction) terminal.err(line);
  terminal.out(content.value);
  return recipeExitCode(recipe.value);
};
