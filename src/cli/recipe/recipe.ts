import { readDocument } from '../../documents/read.js';
import { exporters } from '../../exporters/registry.js';
import type { FitName } from '../../fitting/fit.js';
import { protect } from '../../fitting/protect/protect.js';
import { fitNamed } from '../../fitting/registry.js';
import type { Desk } from '../../model/desk.js';
import { pairFault } from '../../model/pairs.js';
import type { Outcome } from '../../model/problem.js';
import { problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import { readInput } from '../../node/read-input.js';
import { targetPath } from '../../node/targets.js';
import { fitOnThread } from '../../node/threads/fit-job.js';
import { makeIntentsRecipe } from '../../recipes/make-intents-recipe.js';
import { makeRecipe } from '../../recipes/make-recipe.js';
import { quote } from '../../units/quote.js';
import { fail } from '../../units/result.js';
import type { ExitCode } from '../words/exit-code.js';
import { type GuardOptions, givenOption, guardWishes } from '../words/guard-options.js';
import { loadDesk } from '../words/load-desk.js';
import { rigGuardProblem } from '../words/rig-guard-problem.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';
import { deliver, planDelivery } from './deliver.js';
import { recipeExitCode, recipeHint, recipeVerdict } from './recipe-verdict.js';

export interface RecipeOptions extends Omit<GuardOptions, 'pilot'> {
  readonly target: string;
  readonly fit?: FitName;
  readonly format: readonly string[];
  readonly output?: string;
  readonly force?: boolean;
  readonly outputs?: readonly number[];
  readonly spareSlots: number;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

const usage = (message: string, path = ''): Outcome<never> => fail([problem('usage', path, message)]);

/** Reads a rig or intents file and fits it. */
const fitFile = async (path: string, desk: Desk, options: RecipeOptions): Promise<Outcome<Recipe>> => {
  const input = await readInput(path);
  if (!input.ok) return input;
  const document = await readDocument(input.value.bytes, { source: input.value.source });
  if (!document.ok) return document;
  const { source } = input.value;
  const placed = (outcome: Outcome<Recipe>): Outcome<Recipe> =>
    outcome.ok ? outcome : fail(outcome.error.map((each) => ({ source, ...each })));
  if (document.value.format === 'bandwright-rig/1') {
    if (options.outputs)
      return usage('This is for intents files; a rig names the outputs of its mixes itself.', '--outputs');
    const wrong = rigGuardProblem(options, document.value, desk);
    if (wrong) return fail([wrong]);
    const { spareSlots } = options;
    const fit = fitNamed(options.fit ?? 'protect');
    const guard = { ...document.value.guard, ...guardWishes(options) };
    const rig = { ...document.value, guard };
    // With slots to spare a search may take long, and nobody should have to wait for its end to stop it.
    const isLong = spareSlots > 0 && fit === protect;
    const job = { rig, target: desk.target, quantiserFiles: options.quantiser, spareSlots };
    return placed(isLong ? await fitOnThread(job) : makeRecipe(rig, desk, { fit, spareSlots }));
  }
  if (document.value.format === 'bandwright-intents/1') {
    const stray = givenOption(options, 'window', 'keepHigh', 'keepLoss', 'keepLossToReach', 'attenuation');
    if (stray) return usage('This is for rigs: an intents file has no pilot to guard. Leave it out.', stray);
    const { id, outputs } = desk.target;
    const beyond = options.outputs?.find((output) => output > outputs.count);
    if (beyond !== undefined) {
      return usage(
        `There is no output ${beyond}; target ${id} has outputs 1 to ${outputs.count}.`,
        '--outputs',
      );
    }
    const unpaired = pairFault(options.outputs ?? [], desk.target, (pair) => pair.join('/'));
    if (unpaired !== null) return usage(unpaired, '--outputs');
    if (options.fit === 'protect') {
      return usage(
        'The protective fit is for rigs: an intents file has no pilot to guard. Use match or nearest.',
        '--fit',
      );
    }
    return placed(makeIntentsRecipe(document.value, desk, fitNamed(options.fit ?? 'match'), options.outputs));
  }
  return fail([
    {
      ...problem(
        'format-unexpected',
        'format',
        `This is a ${quote(document.value.format)} file; a recipe is made from a rig or an intents file.`,
      ),
      source,
    },
  ]);
};

/** The work of `bandwright recipe`. */
export const runRecipe = async (
  path: string,
  options: RecipeOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = options.json === true;
  const stop = (outcome: { readonly error: Parameters<typeof stopOn>[0] }) =>
    stopOn(outcome.error, terminal, json);

  const names = json ? ['json'] : options.format;
  const unknown = names.find((name) => !exporters.some((each) => each.name === name));
  if (unknown !== undefined) {
    return stop(
      fail([
        problem(
          'usage',
          '--format',
          `There is no format ${quote(unknown)}; there are ${exporters.map(({ name }) => name).join(', ')}.`,
        ),
      ]),
    );
  }
  if (path === '-' && options.target === '-') {
    return stop(fail([problem('usage', '', 'Rig and target cannot both come from standard input.')]));
  }
  const chosen = exporters.filter(({ name }) => names.includes(name));
  const target = await targetPath(options.target);
  if (!target.ok) return stop(target);

  const delivery = await planDelivery(chosen, options, [path, target.value, ...options.quantiser], terminal);
  if (!delivery.ok) return stop(delivery);
  const desk = await loadDesk(options.target, options.quantiser);
  const recipe = desk.ok ? await fitFile(path, desk.value, options) : desk;
  if (!desk.ok || !recipe.ok) {
    await delivery.value.discard();
    return stopOn(desk.ok && !recipe.ok ? recipe.error : desk.ok ? [] : desk.error, terminal, json);
  }
  const delivered = await deliver(delivery.value, recipe.value, desk.value.target, terminal);
  if (!delivered.ok) return stop(delivered);
  const textShown = names.includes('text') && options.output === undefined;
  if (!textShown) for (const line of recipeVerdict(recipe.value)) terminal.err(line);
  for (const line of recipeHint(recipe.value, options.target)) terminal.err(line);
  return recipeExitCode(recipe.value);
};
