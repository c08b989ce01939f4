import { planPush } from '../../live/plan/plan-push.js';
import { verifyMix } from '../../live/write/verify.js';
import { problem } from '../../model/problem.js';
import type { RecipeMix } from '../../model/recipe.js';
import { chooseMixes } from '../live/choose-mixes.js';
import type { DeskOptions } from '../live/desk-options.js';
import { liveReportJson } from '../live/json-report.js';
import { readRecipeOnDesk } from '../live/read-recipe.js';
import { verifyLines } from '../live/report-lines.js';
import { recipeOutcome, shortfallLines } from '../live/shortfall.js';
import { surveyDesk } from '../live/survey-desk.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { problemLines } from '../words/problem-lines.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';

export interface VerifyOptions extends DeskOptions {
  readonly target?: string;
  readonly only?: readonly string[];
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

/** The work of `bandwright verify`. */
export const runVerify = async (
  path: string,
  options: VerifyOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = options.json === true;
  const stop = (outcome: { readonly error: Parameters<typeof stopOn>[0] }) =>
    stopOn(outcome.error, terminal, json);
  const read = await readRecipeOnDesk(path, options);
  if (!read.ok) return stop(read);
  const { recipe, desk, source } = read.value;
  const all = planPush(recipe, desk);
  if (!all.ok) return stop({ error: all.error.map((each) => ({ source, ...each })) });
  const plans = chooseMixes(all.value, options.only);
  if (!plans.ok) return stop(plans);
  if (plans.value.length === 0) {
    const told =
      'The recipe has no mix that would be written to, so there is nothing to compare a desk with.';
    return stop({ error: [problem('nothing-to-verify', 'mixes', told)] });
  }
  const surveyed = await surveyDesk(plans.value, desk, options, terminal);
  if (!surveyed.ok) return surveyed.error;
  const mixes = surveyed.value.mixes.map((mix) => verifyMix(mix, desk));
  const problems = surveyed.value.mixes.flatMap((mix) => mix.problems);
  const holding = mixes.filter(({ state }) => state === 'holds').length;
  const isGood = holding === mixes.length;
  const recipeOf = (name: string): RecipeMix | undefined => recipe.mixes.find((each) => each.name === name);
  if (json) {
    const { kind: transport, host, port } = surveyed.value.place;
    const result = isGood ? 'done' : 'falls-short';
    const told = mixes.map((mix) => {
      const made = recipeOf(mix.name);
      return { ...mix, ...(made ? recipeOutcome(made) : {}) };
    });
    const place = { transport, host, port };
    terminal.out(liveReportJson({ purpose: 'verify', result, desk: place, mixes: told, problems }));
  } else {
    for (const line of verifyLines(mixes, terminal.columns)) terminal.out(`${line}\n`);
  }
  for (const line of problemLines(problems, terminal)) terminal.err(line);
  terminal.err(
    isGood
      ? `Every mix stands as the recipe set it (${mixes.length}).`
      : `${mixes.length - holding} of ${mixes.length} mixes do not stand as the recipe set them.`,
  );
  const short = mixes.flatMap(({ name, state }) => (state === 'holds' ? (recipeOf(name) ?? []) : []));
  for (const line of shortfallLines(short, terminal.columns)) terminal.err(line);
  return isGood ? exitCodes.done : exitCodes.fallsShort;
};
