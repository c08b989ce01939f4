import { type PilotReach, pilotReach } from '../../analysis/reach/pilot-reach.js';
import { guardTask } from '../../fitting/guard-task.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { Desk } from '../../model/desk.js';
import { problem } from '../../model/problem.js';
import { protectiveIntents, usualSystem } from '../../model/protection.js';
import { ok } from '../../units/result.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { deskGuardProblem, scopeOf } from '../words/guard-option-problems.js';
import type { GuardOptions } from '../words/guard-options.js';
import { loadDesks } from '../words/load-desk.js';
import { stopOn } from '../words/run-command.js';
import { pageColumns, type Terminal } from '../words/terminal.js';
import { type CheckedTarget, reachLines } from './reach-lines.js';
import { reachTable } from './reach-table.js';
import { deskTyped, type TypedOptions } from './typed-options.js';

export interface CheckOptions
  extends Pick<GuardOptions, 'pilot' | 'window' | 'keepHigh' | 'keepLoss'>,
    TypedOptions {
  readonly target?: readonly string[];
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

/** What one cut may cost the music on a desk: as much as a recipe lets the usual filters cost together. */
const reachOn = (desk: Desk, scope: GuardScope): PilotReach => {
  const intents = protectiveIntents({ ...usualSystem, pilotHz: scope.pilotHz });
  const { lossLimits } = guardTask(intents, desk.target.realisations, scope);
  return pilotReach(desk, { ...scope, keepLossAtMostDb: lossLimits.usualDb });
};

/** How near desks come to the pilot: the ones that were named, or every shipped one. */
export const runCheck = async (options: CheckOptions, terminal: Terminal): Promise<ExitCode> => {
  const stop = (error: Parameters<typeof stopOn>[0]) => stopOn(error, terminal, options.json === true);
  const typed = deskTyped(options);
  if (typed && !typed.ok) return stop(typed.error);
  if (!typed && (options.q !== undefined || options.gain !== undefined)) {
    const told = 'It goes with --frequencies, which say where a bell can stand: add them.';
    return stop([problem('usage', options.q === undefined ? '--gain' : '--q', told)]);
  }
  const desks = typed ? ok([typed.value]) : await loadDesks(options.target, options.quantiser);
  if (!desks.ok) return stop(desks.error);
  for (const { desk } of desks.value) {
    const wrong = deskGuardProblem(options, desk.target);
    if (wrong) return stop([wrong]);
  }
  const scope = scopeOf(options);
  const checked = desks.value.map(({ name, desk }): CheckedTarget => {
    const { id, title } = desk.target;
    return { name, id, title, reach: reachOn(desk, scope) };
  });
  const [first] = checked;
  const columns = pageColumns(terminal);
  if (options.json) {
    const { pilotHz, windowHz, keepLowHz, keepHighHz } = scope;
    const told = { pilotHz, windowHz, keepLowHz, keepHighHz, targets: checked };
    terminal.out(`${JSON.stringify(told, null, 2)}\n`);
  } else if (first && (typed || options.target?.length === 1)) {
    terminal.out(`${reachLines(first, scope, columns).join('\n')}\n`);
  } else {
    terminal.out(`${reachTable(checked, scope, columns).join('\n')}\n`);
  }
  return exitCodes.done;
};
