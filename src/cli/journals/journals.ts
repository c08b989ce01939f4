import { journalFolder } from '../../node/journals/journal-folder.js';
import { listJournals } from '../../node/journals/list-journals.js';
import { printable } from '../../units/quote.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { stopOn } from '../words/run-command.js';
import { type Terminal, wideColumns } from '../words/terminal.js';
import { journalLines } from './journal-lines.js';

/** The work of `bandwright journals`. */
export const runJournals = async (
  options: { readonly journalFolder?: string; readonly json?: boolean },
  terminal: Terminal,
): Promise<ExitCode> => {
  const folder = journalFolder(options.journalFolder);
  const journals = await listJournals(folder);
  if (!journals.ok) return stopOn(journals.error, terminal, options.json === true);
  if (options.json) {
    terminal.out(`${JSON.stringify({ folder, journals: journals.value }, null, 2)}\n`);
  } else if (journals.value.length === 0) {
    terminal.out(`There are no journals in ${printable(folder)}.\n`);
  } else {
    for (const line of journalLines(journals.value, wideColumns(terminal))) terminal.out(`${line}\n`);
  }
  return exitCodes.done;
};
