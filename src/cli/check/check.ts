import type { ExitCode } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';
import {
  type CheckOptions,
  halfInspectProblem,
  idleOptionProblem,
  isReach,
  namesADesk,
  namesAPlace,
  noDeskProblem,
  severalDesksProblem,
} from './check-options.js';

/** The work of `bandwright check`: the report that was asked for. */
export const runCheck = async (
  rig: string | undefined,
  options: CheckOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const stop = (wrong: Parameters<typeof stopOn>[0][number]) =>
    stopOn([wrong], terminal, options.json === true);
  const idle = idleOptionProblem(options);
  if (idle) return stop(idle);
  if (isReach(rig, options)) return (await import('./reach.js')).runReach(options, terminal);
  const several = severalDesksProblem(options);
  if (several) return stop(several);
  if (rig !== undefined || options.to !== undefined) {
    const half = halfInspectProblem(rig, options);
    if (half) return stop(half);
    if (rig === undefined || !namesAPlace(options)) throw new RangeError('a desk option has no default');
    return (await import('../inspect/inspect.js')).runInspect(rig, options, terminal);
  }
  if (!namesADesk(options)) return stop(noDeskProblem(options));
  return options.tradeoff
    ? (await import('../tradeoff/tradeoff.js')).runTradeoff(options, terminal)
    : (await import('../hear/hear.js')).runHear(options, terminal);
};
