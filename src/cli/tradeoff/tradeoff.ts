import { onThread } from '../../node/threads/fit-job.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { type ProtectionOptions, protectionOnDesk } from '../words/protection-on-desk.js';
import { stopOn } from '../words/run-command.js';
import { pageColumns, type Terminal } from '../words/terminal.js';
import { tradeoffCsv } from './tradeoff-csv.js';
import { tradeoffLines } from './tradeoff-lines.js';

export interface TradeoffOptions extends ProtectionOptions {
  readonly csv?: boolean;
  readonly json?: boolean;
}

/** What a desk's usual protective filters can do for the pilot, against what that costs the music. */
export const runTradeoff = async (options: TradeoffOptions, terminal: Terminal): Promise<ExitCode> => {
  const asked = await protectionOnDesk(options);
  if (!asked.ok) return stopOn(asked.error, terminal, options.json === true);
  const { intents, scope, target } = asked.value;
  const found = await onThread('tradeoff', asked.value);
  if (options.json) {
    const { pilotHz, windowHz, keepLowHz, keepHighHz } = scope;
    const told = { target: target.id, pilotHz, windowHz, keepLowHz, keepHighHz, intents, ...found };
    terminal.out(`${JSON.stringify(told, null, 2)}\n`);
  } else if (options.csv) {
    terminal.out(tradeoffCsv(found));
  } else {
    const lines = tradeoffLines(target, intents, found, scope, pageColumns(terminal));
    terminal.out(`${lines.join('\n')}\n`);
  }
  return exitCodes.done;
};
