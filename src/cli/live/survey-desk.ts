import type { MixPlan } from '../../live/plan/plan.js';
import { type SurveyedMix, survey } from '../../live/write/survey.js';
import type { Desk } from '../../model/desk.js';
import { problem } from '../../model/problem.js';
import { canBeAsked } from '../../osc/asking.js';
import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';
import type { DeskOptions } from './desk-options.js';
import { withInterrupts } from './interruption.js';
import { type DeskPlace, findDesk, openDesk, withOpenDesk } from './open-desk.js';

/** What stands on a desk, and where it is. */
export interface DeskSurvey {
  readonly mixes: readonly SurveyedMix[];
  readonly place: DeskPlace;
  readonly destination: string;
}

/** Reads what plans ask for from a desk, and writes nothing. Where it cannot, that has been told, and how to end. */
export const surveyDesk = async (
  plans: readonly MixPlan[],
  desk: Desk,
  options: DeskOptions & { readonly json?: boolean },
  terminal: Terminal,
): Promise<Result<DeskSurvey, ExitCode>> => {
  const stop = (problems: Parameters<typeof stopOn>[0]) =>
    fail(stopOn(problems, terminal, options.json === true));
  if (!canBeAsked(desk.target)) {
    const told = `The target ${quote(desk.target.id)} cannot be read. Compare its display with the printed recipe.`;
    return stop([problem('osc-unreadable', 'osc.read', told)]);
  }
  const place = await findDesk(desk, options);
  if (!place.ok) return stop(place.error);
  return withInterrupts(terminal, async ({ signal }) => {
    const open = await openDesk(place.value, options, signal);
    if (!open.ok) return stop(open.error);
    const { line, destination } = open.value;
    terminal.progress(`Reading what stands on ${destination} ...`);
    const mixes = await withOpenDesk(open.value, () => survey(plans, desk, line, signal));
    terminal.progress(null);
    if (mixes !== null) return ok({ mixes, place: place.value, destination });
    const lost = line.lost();
    if (lost) return stop([lost]);
    terminal.err('Interrupted: nothing was written.');
    return fail(exitCodes.interrupted);
  });
};
