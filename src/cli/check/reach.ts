import { type PilotReach, pilotReach } from '../../analysis/reach/pilot-reach.js';
import { guardTask } from '../../fitting/guard-task.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { Desk } from '../../model/desk.js';
import { problem } from '../../model/problem.js';
import { protectiveIntents, usualSystem } from '../../model/protection.js';
import { ok } from '../../units/result.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { guardOptionProblem } from '../words/guard-option-problem.js';
import { parseTargets } from '../words/options.js';
import { stopOn } from '../words/run-command.js';
import { loadDesks } from '../words/target-list.js';
import type { Terminal } from '../words/terminal.js';
import { type CheckOptions, scopeOf } from './check-options.js';
import { reachLines } from './reach-lines.js';
import { reachTable } from './reach-table.js';

/** A target, what it was called on the command line, and how near it comes. */
export interface CheckedTarget {
  readonly name: string;
  readonly id: string;
  readonly title: string;
  readonly reach: PilotReach;
}

/** What one cut may cost the music on a desk: as much as a recipe lets the usual filters cost together. */
const reachOn = (desk: Desk, scope: GuardScope): PilotReach => {
  const intents = protectiveIntents({ ...usualSystem, pilotHz: scope.pilotHz });
  const { lossLimits } = guardTask(intents, desk.target.realisations, scope);
  return pilotReach(desk, { ...scope, keepLossAtMostDb: lossLimits.usualDb });
};

/** How near desks come to the pilot: the ones that were named, or every shipped one. */
export const runReach = async (options: CheckOptions, terminal: Terminal): Promise<ExitCode> => {
  const stop = (error: Parameters<typeof stopOn>[0]) => stopOn(error, terminal, options.json === true);
  const names = options.target === undefined ? ok(undefined) : parseTargets(options.target);
  if (!names.ok) return stop([problem('usage', '--target', names.error)]);
  const desks = await loadDesks(names.value, options.quantiser);
  if (!desks.ok) return stop(desks.error);
  const scope = scopeOf(options);
  for (const { desk } of desks.value) {
    const wrong = guardOptionProblem(options, scope, desk.target);
    if (wrong) return stop([wrong]);
  }
  const checked = desks.value.map(({ name, desk }): CheckedTarget => {
    const { id, title } = desk.target;
    return { name, id, title, reach: reachOn(desk, scope) };
  });
  const [first] = checked;
  if (options.json) {
    const { pilotHz, windowHz, keepLowHz, keepHighHz } = scope;
    const told = { pilotHz, windowHz, keepLowHz, keepHighHz, targets: checked };
    terminal.out(`${JSON.stringify(told, null, 2)}\n`);
  } else if (first && names.value?.length === 1) {
    terminal.out(`${reachLines(first, scope).join('\n')}\n`);
  } else {
    terminal.out(`${reachTable(checked, scope).join('\n')}\n`);
  }
  return exitCodes.done;
};
