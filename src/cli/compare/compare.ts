import type { Command } from 'commander';
import type { ComparedDesk } from '../../analysis/compare/compared-desk.js';
import { byMerit } from '../../analysis/compare/compared-desk.js';
import { rigParts, servedDesk, unfitDesk } from '../../analysis/compare/served-desk.js';
import { readRig } from '../../documents/read.js';
import { wrap } from '../../layout/wrap.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import type { Rig } from '../../model/rig.js';
import { readInput } from '../../node/read-input.js';
import { type FitJob, onThreads } from '../../node/threads/fit-job.js';
import { threadsAtOnce } from '../../node/threads/pool.js';
import { fail, ok } from '../../units/result.js';
import { givenWords, typedWords } from '../words/copyable.js';
import type { ExitCode } from '../words/exit-code.js';
import { rigGuardProblem } from '../words/guard-option-problems.js';
import { guardWishes, type RigGuardOptions } from '../words/guard-options.js';
import { loadDesks, type NamedDesk } from '../words/load-desk.js';
import {
  type FormOptions,
  filesOf,
  reportColumns,
  reportForm,
  reportText,
  type ShowOptions,
  type ToldReport,
  tellReport,
  untoldShow,
} from '../words/page-form.js';
import { stopOn } from '../words/run-command.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { comparisonCsv } from './comparison-csv.js';
import { comparisonJson } from './comparison-json.js';
import { comparisonLines } from './comparison-lines.js';
import type { FoundComparison } from './comparison-page.js';
import { comparisonExitCode, comparisonResult } from './comparison-verdict.js';

export interface CompareOptions extends RigGuardOptions, FormOptions, ShowOptions {
  readonly targets?: readonly string[];
  readonly spareSlots: number;
  readonly threads?: number;
  readonly quantiser: readonly string[];
}

/** Frequencies that a desk cannot carry keep the rig off that one: what is asked is judged for no desk in particular. */
const anyDesk = { target: { id: '', realisations: [] } };

/** Reads a rig, and puts what the command line asks of its guard before what it asks itself. */
const rigToServe = async (path: string, options: CompareOptions): Promise<Outcome<Rig>> => {
  const input = await readInput(path);
  if (!input.ok) return input;
  const rig = readRig(input.value.bytes, { source: input.value.source });
  if (!rig.ok) return rig;
  const wrong = rigGuardProblem(options, rig.value, anyDesk);
  if (wrong) return fail([wrong]);
  return { ok: true, value: { ...rig.value, guard: { ...rig.value.guard, ...guardWishes(options) } } };
};

/** Only desks that have what the rig asks for are fitted. */
const fittedOn = (recipe: Outcome<Recipe> | undefined): Recipe => {
  if (recipe?.ok) return recipe.value;
  throw new Error(`a desk that was to fit does not: ${JSON.stringify(recipe?.error)}`);
};

/** Makes the recipes of every part of the rig on every desk, on as many threads as there may be. */
const fitAll = async (
  rig: Rig,
  desks: readonly NamedDesk[],
  { quantiser, spareSlots, threads }: CompareOptions,
  terminal: Terminal,
): Promise<readonly ComparedDesk[]> => {
  const parts = rigParts(rig);
  const jobs = desks.flatMap(({ desk: { target } }) =>
    parts.map((part): FitJob => ({ rig: part.rig, target, quantiserFiles: quantiser, spareSlots })),
  );
  const recipes = await onThreads('recipe', jobs, {
    threads: threads ?? threadsAtOnce(),
    onBegin: (job) => {
      if (!terminal.errIsTerminal) return;
      terminal.progress(`Fitting ${job + 1}/${jobs.length}  ${jobs[job]?.target.id ?? ''}`);
    },
  });
  if (terminal.errIsTerminal) terminal.progress(null);
  return desks.map(({ name, desk: { target } }, index) =>
    servedDesk(
      { name, target },
      parts.map(({ mixCount }, part) => ({
        recipe: fittedOn(recipes[index * parts.length + part]),
        mixCount,
      })),
    ),
  );
};

/** What a recipe is not told: which desks there were, and in which form they were compared. */
const notForRecipe: ReadonlySet<string> = new Set([
  ...['targets', 'threads', 'csv', 'json', 'format', 'output', 'force', 'venue', 'date'],
]);

const contentOf = async (
  told: FoundComparison,
  options: CompareOptions,
  terminal: Terminal,
): Promise<string> => {
  const { rig, compared } = told;
  switch (reportForm(options)) {
    case 'json':
      return comparisonJson(rig, compared);
    case 'csv':
      return comparisonCsv(compared);
    case 'sheet':
      return (await import('./comparison-page.js')).comparisonPage(told, options);
    case 'svg':
      return (await import('./comparison-page.js')).comparisonSvg(told);
    case 'text':
      return reportText(comparisonLines(rig, compared, reportColumns(options, terminal)), options, terminal);
  }
};

/** Reads the rig, fits it on every desk and tells how each does. */
const compareDesks = async (
  path: string,
  options: CompareOptions,
  terminal: Terminal,
  command: Command,
): Promise<Outcome<ToldReport>> => {
  const rig = await rigToServe(path, options);
  if (!rig.ok) return rig;
  const desks = await loadDesks(options.targets, options.quantiser);
  if (!desks.ok) return desks;
  const unfit = desks.value.flatMap(({ name, desk }) => unfitDesk(name, desk, rig.value) ?? []);
  const fitting = desks.value.filter(({ name }) => !unfit.some((each) => each.name === name));
  const compared = [...(await fitAll(rig.value, fitting, options, terminal)), ...unfit].sort(byMerit);
  const file = path.startsWith('-') ? `./${path}` : path;
  // What came through a pipe is not there a second time.
  const recipeCommand = ({ name }: ComparedDesk): string | null =>
    path === '-' || name === '-'
      ? null
      : typedWords(['bandwright', 'recipe', file, '--target', name, ...givenWords(command, notForRecipe)]);
  return ok({
    code: comparisonExitCode(compared),
    content: await contentOf({ rig: rig.value, compared, recipeCommand }, options, terminal),
    verdict: wrap(comparisonResult(compared), messageColumns(terminal)),
  });
};

/** The work of `bandwright compare`. */
export const runCompare = async (
  path: string,
  options: CompareOptions,
  terminal: Terminal,
  command: Command,
): Promise<ExitCode> => {
  const stop = (error: Parameters<typeof stopOn>[0]) => stopOn(error, terminal, options.json === true);
  const untold = untoldShow(options, [reportForm(options)]);
  if (untold) return stop([untold]);
  if (path === '-' && options.targets?.includes('-')) {
    return stop([problem('usage', '', 'Rig and target cannot both come from standard input.')]);
  }
  return tellReport(
    {
      options,
      fileName: 'compare',
      inputs: [path, ...(await filesOf(options.targets ?? [], options.quantiser))],
      work: () => compareDesks(path, options, terminal, command),
    },
    terminal,
  );
};
