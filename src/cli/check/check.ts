import { type PilotReach, pilotReach, placesNear } from '../../analysis/reach/pilot-reach.js';
import { guardTask } from '../../fitting/guard-task.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { wrap } from '../../layout/wrap.js';
import type { Desk } from '../../model/desk.js';
import { type Outcome, problem } from '../../model/problem.js';
import { protectiveIntents, usualSystem } from '../../model/protection.js';
import { itemAt } from '../../units/at.js';
import { fail, ok } from '../../units/result.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { deskGuardProblem, scopeOf } from '../words/guard-option-problems.js';
import type { GuardOptions } from '../words/guard-options.js';
import { loadDesks, type NamedDesk } from '../words/load-desk.js';
import {
  type FormOptions,
  filesOf,
  formOf,
  reportColumns,
  type ToldReport,
  tellReport,
} from '../words/page-form.js';
import { stopOn } from '../words/run-command.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { type CheckedTarget, reachLines } from './reach-lines.js';
import { reachTable } from './reach-table.js';
import { reachResult } from './reach-words.js';
import { deskTyped, type TypedOptions } from './typed-options.js';

export interface CheckOptions
  extends Pick<GuardOptions, 'pilot' | 'window' | 'keepHigh' | 'keepLoss'>,
    FormOptions,
    TypedOptions {
  readonly target?: readonly string[];
  readonly quantiser: readonly string[];
}

/** What one cut may cost the music on a desk: as much as a recipe lets the usual filters cost together. */
const reachOn = (desk: Desk, scope: GuardScope): PilotReach => {
  const intents = protectiveIntents({ ...usualSystem, pilotHz: scope.pilotHz });
  const { lossLimits } = guardTask(intents, desk.target.realisations, scope);
  return pilotReach(desk, { ...scope, keepLossAtMostDb: lossLimits.usualDb });
};

interface Asked {
  readonly desks: readonly NamedDesk[];
  readonly scope: GuardScope;
  /** Whether one is told closely, or several side by side. */
  readonly isOne: boolean;
}

const reachJson = (checked: readonly CheckedTarget[], scope: GuardScope): string => {
  const { pilotHz, windowHz, keepLowHz, keepHighHz } = scope;
  const told = { pilotHz, windowHz, keepLowHz, keepHighHz, targets: checked };
  return `${JSON.stringify(told, null, 2)}\n`;
};

const contentOf = async (
  { desks, scope, isOne }: Asked,
  checked: readonly CheckedTarget[],
  options: CheckOptions,
  terminal: Terminal,
): Promise<string> => {
  const [first] = checked;
  const form = formOf(options);
  if (form === 'json') return reachJson(checked, scope);
  if (form === 'sheet' || form === 'svg') {
    const { reachPage, reachSvg } = await import('./reach-page.js');
    const found = checked.map((each, index) => ({
      ...each,
      places: placesNear(itemAt(desks, index).desk, scope),
    }));
    return form === 'sheet' ? reachPage(found, scope, isOne) : reachSvg(found, scope, isOne);
  }
  const columns = reportColumns(options, terminal);
  const lines = first && isOne ? reachLines(first, scope, columns) : reachTable(checked, scope, columns);
  return `${lines.join('\n')}\n`;
};

/** The desks to check, each with what is asked of the guard there. */
const desksAsked = async (
  options: CheckOptions,
  typed: ReturnType<typeof deskTyped>,
): Promise<Outcome<Asked>> => {
  if (typed && !typed.ok) return typed;
  const desks = typed ? ok([typed.value]) : await loadDesks(options.target, options.quantiser);
  if (!desks.ok) return desks;
  for (const { desk } of desks.value) {
    const wrong = deskGuardProblem(options, desk.target);
    if (wrong) return fail([wrong]);
  }
  return ok({
    desks: desks.value,
    scope: scopeOf(options),
    isOne: typed !== null || options.target?.length === 1,
  });
};

/** How near desks come to the pilot: the ones that were named, or every shipped one. */
export const runCheck = async (options: CheckOptions, terminal: Terminal): Promise<ExitCode> => {
  const typed = deskTyped(options);
  if (!typed && (options.q !== undefined || options.gain !== undefined)) {
    const told = 'It goes with --frequencies, which say where a bell can stand: add them.';
    const wrong = problem('usage', options.q === undefined ? '--gain' : '--q', told);
    return stopOn([wrong], terminal, options.json === true);
  }
  const work = async (): Promise<Outcome<ToldReport>> => {
    const asked = await desksAsked(options, typed);
    if (!asked.ok) return asked;
    const { desks, scope, isOne } = asked.value;
    const checked = desks.map(({ name, desk }): CheckedTarget => {
      const { id, title } = desk.target;
      return { name, id, title, reach: reachOn(desk, scope) };
    });
    return ok({
      code: exitCodes.done,
      content: await contentOf(asked.value, checked, options, terminal),
      verdict: wrap(reachResult(checked, isOne), messageColumns(terminal)),
    });
  };
  const inputs = await filesOf(options.target ?? [], options.quantiser);
  return tellReport({ options, fileName: 'check', inputs, work }, terminal);
};
