import { wrap } from '../../layout/wrap.js';
import { onThread } from '../../node/threads/fit-job.js';
import { ok } from '../../units/result.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { type FormOptions, filesOf, formOf, reportColumns, tellReport } from '../words/page-form.js';
import { type ProtectionOptions, protectionOnDesk } from '../words/protection-on-desk.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { tradeoffCsv } from './tradeoff-csv.js';
import { tradeoffLines } from './tradeoff-lines.js';
import type { FoundTradeoff } from './tradeoff-page.js';
import { reaching } from './tradeoff-words.js';

export type TradeoffOptions = ProtectionOptions & FormOptions;

const tradeoffJson = ({ target, intents, found, scope }: FoundTradeoff): string => {
  const { pilotHz, windowHz, keepLowHz, keepHighHz } = scope;
  const told = { target: target.id, pilotHz, windowHz, keepLowHz, keepHighHz, intents, ...found };
  return `${JSON.stringify(told, null, 2)}\n`;
};

const contentOf = async (
  told: FoundTradeoff,
  options: TradeoffOptions,
  terminal: Terminal,
): Promise<string> => {
  const { target, intents, found, scope } = told;
  switch (formOf(options)) {
    case 'json':
      return tradeoffJson(told);
    case 'csv':
      return tradeoffCsv(found);
    case 'sheet':
      return (await import('./tradeoff-page.js')).tradeoffPage(told);
    case 'svg':
      return (await import('./tradeoff-page.js')).tradeoffSvg(told);
    case 'text':
      return `${tradeoffLines(target, intents, found, scope, reportColumns(options, terminal)).join('\n')}\n`;
  }
};

/** What a desk's usual protective filters can do for the pilot, against what that costs the music. */
export const runTradeoff = async (options: TradeoffOptions, terminal: Terminal): Promise<ExitCode> =>
  tellReport(
    {
      options,
      fileName: 'tradeoff',
      inputs: await filesOf([options.target], options.quantiser),
      work: async () => {
        const asked = await protectionOnDesk(options);
        if (!asked.ok) return asked;
        const { intents, scope, target } = asked.value;
        const found = await onThread('tradeoff', asked.value);
        const told = { target, intents, found, scope };
        return ok({
          code: exitCodes.done,
          content: await contentOf(told, options, terminal),
          verdict: wrap(reaching(found, scope), messageColumns(terminal)),
        });
      },
    },
    terminal,
  );
