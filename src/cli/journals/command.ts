import { Command } from 'commander';
import { journalFolderOption } from '../words/desk-options.js';
import { jsonOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';

/** `journals`: what pushes have found and kept, to be restored from. */
export const journalsCommand = (): Command =>
  new Command('journals')
    .description(
      'Lists the journals that push and restore keep of what they found on a desk, newest first, and how each of them ended.',
    )
    .addOption(journalFolderOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  bandwright journals\n')
    .action((options) =>
      runCommand(async (terminal) => (await import('./journals.js')).runJournals(options, terminal)),
    );
