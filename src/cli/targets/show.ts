import { writeJson } from '../../documents/write-json.js';
import { loadDesk } from '../../node/targets.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';
import { showLines } from './show-lines.js';

/** The work of `bandwright targets show`. */
export const runShow = async (
  target: string,
  options: { readonly json?: boolean; readonly quantiser: readonly string[] },
  terminal: Terminal,
): Promise<ExitCode> => {
  const desk = await loadDesk(target, options.quantiser);
  if (!desk.ok) return stopOn(desk.error, terminal, options.json === true);
  terminal.out(options.json ? writeJson(desk.value.target) : `${showLines(desk.value).join('\n')}\n`);
  return exitCodes.done;
};
