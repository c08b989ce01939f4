import { type PilotReach, pilotReach } from '../../fitting/reach/pilot-reach.js';
import type { Target } from '../../model/target.js';
import { shippedTargets } from '../../node/targets.js';
import { type ExitCode, exitCodes } from '../exit-code.js';
import { guardOptionProblem } from '../guard-option-problem.js';
import { loadDesk } from '../load.js';
import { stopOn } from '../run-command.js';
import type { Terminal } from '../terminal.js';
import { type CheckOptions, scopeOf } from './check-options.js';
import { reachLines } from './reach-lines.js';
import { reachTable } from './reach-table.js';

/** A target and how near it comes. */
export interface CheckedTarget {
  readonly target: Pick<Target, 'id' | 'title'>;
  readonly reach: PilotReach;
}

/** How near desks come to the pilot: one desk, or every shipped one. */
export const runReach = async (options: CheckOptions, terminal: Terminal): Promise<ExitCode> => {
  const json = options.json === true;
  const scope = scopeOf(options);
  const wanted =
    options.target === undefined ? (await shippedTargets()).map(({ id }) => id) : [options.target];
  const checked: CheckedTarget[] = [];
  for (const name of wanted) {
    const desk = await loadDesk(name, options.quantiser);
    if (!desk.ok) return stopOn(desk.error, terminal, json);
    const wrong = guardOptionProblem(options, scope, desk.value.target);
    if (wrong) return stopOn([wrong], terminal, json);
    const { id, title } = desk.value.target;
    checked.push({ target: { id, title }, reach: pilotReach(desk.value, scope) });
  }
  const [first] = checked;
  if (json) {
    terminal.out(
      `${JSON.stringify({ keepHighHz: scope.keepHighHz, keepLossAtMostDb: scope.keepLossAtMostDb, targets: checked }, null, 2)}\n`,
    );
  } else if (options.target !== undefined && first) {
    terminal.out(`${reachLines(first, scope).join('\n')}\n`);
  } else {
    terminal.out(`${reachTable(checked, scope).join('\n')}\n`);
  }
  return exitCodes.done;
};
