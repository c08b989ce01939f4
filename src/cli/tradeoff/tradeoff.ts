import { tradeoff } from '../../analysis/tradeoff.js';
import type { OneDeskOptions } from '../check/check-options.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { protectionOnDesk } from '../words/protection-on-desk.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';
import { tradeoffCsv } from './tradeoff-csv.js';
import { tradeoffLines } from './tradeoff-lines.js';

/** What a desk's usual protective filters can do for the pilot, against what that costs the music. */
export const runTradeoff = async (options: OneDeskOptions, terminal: Terminal): Promise<ExitCode> => {
  const asked = await protectionOnDesk(options);
  if (!asked.ok) return stopOn(asked.error, terminal, options.json === true);
  const { intents, context } = asked.value;
  const { desk, scope } = context;
  const found = tradeoff(intents, context);
  if (options.json) {
    const { pilotHz, windowHz, keepLowHz, keepHighHz } = scope;
    const told = { target: desk.target.id, pilotHz, windowHz, keepLowHz, keepHighHz, intents, ...found };
    terminal.out(`${JSON.stringify(told, null, 2)}\n`);
  } else if (options.csv) {
    terminal.out(tradeoffCsv(found));
  } else {
    terminal.out(`${tradeoffLines(desk.target, intents, found, scope).join('\n')}\n`);
  }
  return exitCodes.done;
};
