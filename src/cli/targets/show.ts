import { writeJson } from '../../documents/write-json.js';
import type { Desk } from '../../model/desk.js';
import type { Knob } from '../../model/knob.js';
import { knobParsers } from '../../model/parse-knob.js';
import { type Problem, problem } from '../../model/problem.js';
import { loadDesk } from '../../node/targets.js';
import { quote } from '../../units/quote.js';
import type { Result } from '../../units/result.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import { pageColumns, type Terminal } from '../words/terminal.js';
import { gridsOf, knobValueLines, knobValues } from './knob-values.js';
import { showLines } from './show-lines.js';

export interface ShowFlags {
  readonly knob?: Knob;
  /** A value as it was typed, to be read as the knob's own. */
  readonly around?: string;
  readonly json?: boolean;
  readonly quantiser: readonly string[];
}

/** More values than these nobody reads. */
const mostValues = 2000;

const valuesProblem = (desk: Desk, knob: Knob, around: Result<number, string> | null): Problem | null => {
  if (around && !around.ok) return problem('usage', '--around', around.error);
  const grids = gridsOf(desk, knob);
  if (grids.length === 0) {
    const told = `No slot of ${quote(desk.target.id)} has a knob ${knob}.`;
    return problem('usage', '--knob', told);
  }
  const many = Math.max(...grids.map(({ count }) => count));
  const told = `The knob ${knob} has ${many} values, more than anybody reads: add --around and one of them.`;
  return around === null && many > mostValues ? problem('usage', '--around', told) : null;
};

/** The values of one knob, in place of the whole target. */
const showKnob = (desk: Desk, knob: Knob, { around, json }: ShowFlags, terminal: Terminal): ExitCode => {
  const parsed = around === undefined ? null : knobParsers[knob](around);
  const wrong = valuesProblem(desk, knob, parsed);
  if (wrong) return stopOn([wrong], terminal, json === true);
  const values = knobValues(desk, knob, parsed?.ok ? parsed.value : undefined);
  if (json) terminal.out(`${JSON.stringify({ knob, grids: values }, null, 2)}\n`);
  else terminal.out(`${knobValueLines(values, pageColumns(terminal)).join('\n')}\n`);
  return exitCodes.done;
};

/** The work of `bandwright targets show`. */
export const runShow = async (target: string, options: ShowFlags, terminal: Terminal): Promise<ExitCode> => {
  if (options.around !== undefined && options.knob === undefined) {
    const told = 'It is a value of a knob: add --knob and which one.';
    return stopOn([problem('usage', '--around', told)], terminal, options.json === true);
  }
  const desk = await loadDesk(target, options.quantiser);
  if (!desk.ok) return stopOn(desk.error, terminal, options.json === true);
  if (options.knob) return showKnob(desk.value, options.knob, options, terminal);
  terminal.out(options.json ? writeJson(desk.value.target) : `${showLines(desk.value).join('\n')}\n`);
  return exitCodes.done;
};
