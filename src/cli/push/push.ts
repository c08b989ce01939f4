import { messageLine } from '../../exporters/osc-notation.js';
import type { MixPlan } from '../../live/plan/plan.js';
import { planPush } from '../../live/plan/plan-push.js';
import { rises } from '../../live/plan/rise.js';
import { messagesFor } from '../../live/write/dry-run.js';
import type { Desk } from '../../model/desk.js';
import { type Outcome, problem } from '../../model/problem.js';
import { canBeAsked } from '../../osc/asking.js';
import type { OscMessage } from '../../osc/message.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { agreement } from '../live/agreement.js';
import { chooseMixes } from '../live/choose-mixes.js';
import { type RecipeOnDesk, readRecipeOnDesk } from '../live/read-recipe.js';
import { surveyDesk } from '../live/survey-desk.js';
import { type WriteOptions, writePlans } from '../live/write-plans.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';

export interface PushOptions extends WriteOptions {
  readonly target?: string;
  readonly only?: readonly string[];
  readonly dryRun?: boolean;
  readonly allowRise?: boolean;
  readonly acceptNames?: boolean;
  readonly blind?: boolean;
  readonly yes?: boolean;
  readonly quantiser: readonly string[];
}

/** What is to be pushed, once everything that can be told without a desk has been. */
const planned = (
  { recipe, desk, source }: RecipeOnDesk,
  options: PushOptions,
): Outcome<readonly MixPlan[]> => {
  const plans = planPush(recipe, desk);
  if (!plans.ok) return fail(plans.error.map((each) => ({ source, ...each })));
  const chosen = chooseMixes(plans.value, options.only);
  if (!chosen.ok) return chosen;
  const names = chosen.value.map(({ name }) => name);
  const mixes = recipe.mixes.filter(({ name }) => names.includes(name));
  const raised = options.allowRise ? [] : rises({ ...recipe, mixes }, desk);
  return raised.length > 0 ? fail(raised.map((each) => ({ source, ...each }))) : chosen;
};

const blindness = ({ target }: Desk, { blind, dryRun }: PushOptions): Outcome<void> => {
  if (canBeAsked(target) || blind || dryRun) return ok(undefined);
  const told = `The target ${quote(target.id)} cannot be read back: what stands there cannot be kept, and nothing can be proved. Add --blind to write all the same, or dial by hand.`;
  return fail([problem('usage', '--blind', told)]);
};

const printMessages = (messages: readonly OscMessage[], terminal: Terminal, json: boolean): ExitCode => {
  const lines = messages.map(messageLine);
  terminal.out(
    json ? `${JSON.stringify({ messages: lines }, null, 2)}\n` : lines.map((each) => `${each}\n`).join(''),
  );
  return exitCodes.done;
};

/** The messages of a dry run: against the desk as it stands, where one is given; it is only read. */
const dryRun = async (
  plans: readonly MixPlan[],
  desk: Desk,
  options: PushOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = options.json === true;
  if (options.to === undefined || !canBeAsked(desk.target)) {
    terminal.err('Dry run, nothing is sent: the messages that set these mixes whatever stands on the desk.');
    return printMessages(await messagesFor(plans, null, desk), terminal, json);
  }
  const surveyed = await surveyDesk(plans, desk, options, terminal);
  if (!surveyed.ok) return surveyed.error;
  const { mixes } = surveyed.value;
  const unread = mixes.flatMap(({ problems }) => problems);
  if (unread.length > 0) return stopOn(unread, terminal, json);
  terminal.err(
    'Dry run, the desk was only read: the messages that would set these mixes, each to be read back.',
  );
  return printMessages(await messagesFor(plans, mixes, desk), terminal, json);
};

/** The work of `bandwright push`. */
export const runPush = async (path: string, options: PushOptions, terminal: Terminal): Promise<ExitCode> => {
  const json = options.json === true;
  const stop = (outcome: { readonly error: Parameters<typeof stopOn>[0] }) =>
    stopOn(outcome.error, terminal, json);

  const asking = agreement(options, path === '-', terminal);
  if (!asking.ok && !options.dryRun) return stop(asking);
  const read = await readRecipeOnDesk(path, options);
  if (!read.ok) return stop(read);
  const { recipe, desk } = read.value;
  const plans = planned(read.value, options);
  if (!plans.ok) return stop(plans);
  const blind = blindness(desk, options);
  if (!blind.ok) return stop(blind);
  if (plans.value.length === 0) {
    terminal.err('The recipe has no mix to write to: every one is to be left alone.');
    return exitCodes.done;
  }
  if (options.dryRun) return dryRun(plans.value, desk, options, terminal);
  if (!asking.ok) return stop(asking);

  const names = plans.value.map(({ name }) => name);
  return writePlans(
    {
      purpose: 'push',
      title: recipe.rig.title,
      plans: plans.value,
      desk,
      acceptNames: options.acceptNames === true,
      agreement: asking.value,
      recipeMixes: recipe.mixes.filter(({ name }) => names.includes(name)),
    },
    options,
    terminal,
  );
};
