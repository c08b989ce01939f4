import { type PilotReach, pilotReach } from '../../fitting/reach/pilot-reach.js';
import { type Problem, problem } from '../../model/problem.js';
import { usualPilotHz } from '../../model/protection.js';
import type { Target } from '../../model/target.js';
import { type GuardScope, guardScope } from '../../multiplex/guard-scope.js';
import { shippedTargets } from '../../node/targets.js';
import { type Db, db, type Hz, hz } from '../../units/quantity.js';
import { type ExitCode, exitCodes } from '../exit-code.js';
import { loadDesk } from '../load.js';
import { stopOn } from '../run-command.js';
import type { Terminal } from '../terminal.js';
import { reachLines } from './reach-lines.js';
import { reachTable } from './reach-table.js';

export interface CheckOptions {
  readonly target?: string;
  readonly pilot?: Hz;
  readonly keepHigh?: Hz;
  readonly keepLoss?: Db;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

/** A target and how near it comes. */
export interface CheckedTarget {
  readonly target: Pick<Target, 'id' | 'title'>;
  readonly reach: PilotReach;
}

const scopeOf = ({ pilot, keepHigh, keepLoss }: CheckOptions) =>
  guardScope(pilot ?? usualPilotHz, {
    keepHighHz: keepHigh ?? hz(12000),
    keepLossLimitDb: keepLoss ?? db(1),
  });

const scopeProblem = ({ keepHigh, keepLoss }: CheckOptions): Problem | null => {
  if (keepLoss !== undefined && keepLoss < 0) {
    return problem(
      'usage',
      '--keep-loss',
      `A loss of ${keepLoss} dB would be a gain; give a number from 0 up, as in 1.`,
    );
  }
  return keepHigh !== undefined && keepHigh <= 80
    ? problem(
        'usage',
        '--keep-high',
        `The music is kept from 80 Hz up; ${keepHigh} Hz is no upper end for it.`,
      )
    : null;
};

/** What lies beyond half of a sample rate is not there to be judged. */
const beyondDesk = (
  { pilot, keepHigh }: CheckOptions,
  { pilotHz, windowHz, keepHighHz }: GuardScope,
  { id, realisations }: Target,
): Problem | null => {
  const lowestRateHz = Math.min(...realisations.map(({ sampleRateHz }) => sampleRateHz ?? Infinity));
  const told = (option: string, what: string): Problem =>
    problem(
      'usage',
      option,
      `${what} is not below ${lowestRateHz / 2} Hz, half of the lowest sample rate target ${id} may run at; nothing is known there. Give a lower frequency.`,
    );
  if (pilot !== undefined && pilotHz + windowHz >= lowestRateHz / 2) {
    return told('--pilot', `A pilot at ${pilotHz} Hz +-${windowHz} Hz`);
  }
  return keepHigh !== undefined && keepHighHz >= lowestRateHz / 2
    ? told('--keep-high', `Music up to ${keepHighHz} Hz`)
    : null;
};

/** The work of `bandwright check`. */
export const runCheck = async (options: CheckOptions, terminal: Terminal): Promise<ExitCode> => {
  const json = options.json === true;
  const wrong = scopeProblem(options);
  if (wrong) return stopOn([wrong], terminal, json);
  const scope = scopeOf(options);
  const wanted =
    options.target === undefined ? (await shippedTargets()).map(({ id }) => id) : [options.target];
  const checked: CheckedTarget[] = [];
  for (const name of wanted) {
    const desk = await loadDesk(name, options.quantiser);
    if (!desk.ok) return stopOn(desk.error, terminal, json);
    const beyond = beyondDesk(options, scope, desk.value.target);
    if (beyond) return stopOn([beyond], terminal, json);
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
