import type { Command } from 'commander';
import { intentsKind, rigKind } from '../../documents/kinds.js';
import { readOneOf } from '../../documents/read.js';
import { exporters } from '../../exporters/registry.js';
import type { FitName } from '../../fitting/fit.js';
import { defaultFitFor, fitNamed, fits } from '../../fitting/registry.js';
import type { Desk } from '../../model/desk.js';
import { pairFault } from '../../model/pairs.js';
import type { Outcome } from '../../model/problem.js';
import { problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import { readInput } from '../../node/read-input.js';
import { loadDesk, targetPath } from '../../node/targets.js';
import { onThread } from '../../node/threads/fit-job.js';
import { makeIntentsRecipe } from '../../recipes/make-intents-recipe.js';
import { makeRecipe } from '../../recipes/make-recipe.js';
import { quote } from '../../units/quote.js';
import { fail } from '../../units/result.js';
import type { ExitCode } from '../words/exit-code.js';
import { rigGuardProblem } from '../words/guard-option-problems.js';
import { givenOption, guardWishes, type RigGuardOptions } from '../words/guard-options.js';
import { isStandardOutput } from '../words/outputs.js';
import { type ShowOptions, untoldShow } from '../words/page-form.js';
import { stopOn } from '../words/run-command.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { deliver, planDelivery } from './deliver.js';
import { recipeAdvice, recipeExitCode, recipeHint, recipeVerdict, tellingOf } from './recipe-verdict.js';
import { sheetContext } from './sheet-options.js';

export interface RecipeFlags extends RigGuardOptions, ShowOptions {
  readonly target: string;
  readonly fit?: FitName;
  readonly format: readonly string[];
  readonly output?: string;
  readonly force?: boolean;
  readonly outputs?: readonly number[];
  readonly spareSlots: number;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
  readonly full?: boolean;
  readonly plot?: boolean;
}

const usage = (message: string, path = ''): Outcome<never> => fail([problem('usage', path, message)]);

/** Reads a rig or intents file and fits it. */
const fitFile = async (path: string, desk: Desk, options: RecipeFlags): Promise<Outcome<Recipe>> => {
  const input = await readInput(path);
  if (!input.ok) return input;
  const document = readOneOf(input.value.bytes, { source: input.value.source }, [rigKind, intentsKind]);
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
    const fit = options.fit === undefined ? defaultFitFor('rig') : fitNamed(options.fit);
    const guard = { ...document.value.guard, ...guardWishes(options) };
    const rig = { ...document.value, guard };
    // Nobody should have to wait for the end of a long search to stop it.
    const made = fit.mayTakeLong({ spareSlots })
      ? onThread('recipe', {
          rig,
          fit: fit.name,
          target: desk.target,
          quantiserFiles: options.quantiser,
          spareSlots,
        })
      : makeRecipe(rig, desk, { fit, spareSlots });
    return placed(await made);
  }
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
  const fit = options.fit === undefined ? defaultFitFor('intents') : fitNamed(options.fit);
  if (fit.needsGuard) {
    const others = fits.flatMap(({ name, needsGuard }) => (needsGuard ? [] : [name]));
    const told = `The fit ${fit.name} is for rigs: an intents file has no pilot to guard. Use ${others.join(' or ')}.`;
    return usage(told, '--fit');
  }
  return placed(makeIntentsRecipe(document.value, desk, fit, options.outputs));
};

/** The files of a recipe; a shipped target goes by its id, wherever it is installed. */
const filesOf = (rigPath: string, asked: string, targetFile: string) => ({
  rig: { name: rigPath, path: rigPath },
  target: { name: targetFile === asked ? asked : `target ${asked}`, path: targetFile },
});

/** The work of `bandwright recipe`. */
export const runRecipe = async (
  path: string,
  options: RecipeFlags,
  terminal: Terminal,
  command: Command,
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
  const ofText = (['full', 'plot'] as const).find((name) => options[name]);
  if (ofText !== undefined && !names.includes('text')) {
    const told = json
      ? 'This is for the text; --json prints JSON, which tells all of a recipe. Leave one of them out.'
      : `This is for the text; ${names.join(', ')} ${names.length === 1 ? 'is' : 'are'} asked for. Leave it out, or add text to --format.`;
    return stop(fail([problem('usage', `--${ofText}`, told)]));
  }
  const untold = untoldShow(options, names);
  if (untold) return stop(fail([untold]));
  if (path === '-' && options.target === '-') {
    return stop(fail([problem('usage', '', 'Rig and target cannot both come from standard input.')]));
  }
  const chosen = exporters.filter(({ name }) => names.includes(name));
  const target = await targetPath(options.target);
  if (!target.ok) return stop(target);

  const delivery = await planDelivery(chosen, options, [path, target.value, ...options.quantiser], terminal);
  if (!delivery.ok) return stop(delivery);
  // Before anything else reads them: what a sheet tells of files is what the recipe is made of.
  const sheet = names.includes('sheet')
    ? await sheetContext(
        { ...options, writesJson: names.includes('json') },
        { ...filesOf(path, options.target, target.value), others: options.quantiser },
        command,
      )
    : null;
  const desk = await loadDesk(options.target, options.quantiser);
  const recipe = desk.ok ? await fitFile(path, desk.value, options) : desk;
  if (!desk.ok || !recipe.ok) {
    await delivery.value.discard();
    return stopOn(desk.ok && !recipe.ok ? recipe.error : desk.ok ? [] : desk.error, terminal, json);
  }
  const told = {
    target: desk.value.target,
    desk: desk.value,
    full: options.full === true,
    plot: options.plot === true,
    ...(sheet ? { sheet: { ...sheet, advice: recipeAdvice(recipe.value, options.target) } } : {}),
  };
  const delivered = await deliver(delivery.value, recipe.value, told, terminal);
  if (!delivered.ok) return stop(delivered);
  const columns = messageColumns(terminal);
  const isTextShown = names.includes('text') && isStandardOutput(options.output);
  const telling = tellingOf(names, options.full === true);
  if (!isTextShown) for (const line of recipeVerdict(recipe.value, telling, columns)) terminal.err(line);
  for (const line of recipeHint(recipe.value, options.target, columns)) terminal.err(line);
  return recipeExitCode(recipe.value);
};
