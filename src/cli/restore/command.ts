import { Command, Option } from 'commander';
import {
  addDeskOptions,
  journalFolderOption,
  onlyOption,
  toOption,
  yesOption,
} from '../words/desk-options.js';
import { jsonOption, quantiserOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const example = `
Examples:
  bandwright journals                              what there is to restore
  bandwright restore --last                        the newest push not put back yet
  bandwright restore journal.json                  to the desk it came from
  bandwright restore journal.json --to 127.0.0.1   the desk at another address

It is safe to run twice. Mute, or have performers take the in-ears out, before.
`;

/** `restore`: puts back exactly what a push found. */
export const restoreCommand = (): Command =>
  addDeskOptions(
    new Command('restore')
      .description(
        'Puts back what a push found on a desk, to the last digit, and reads it back. What stands there now is kept in a journal of its own first.',
      )
      .argument('[journal]', 'a journal, as push keeps them; - for standard input')
      .addOption(new Option('--last', 'instead of a journal: the newest push that has not been put back yet'))
      .addOption(toOption())
      .addOption(new Option('--accept-names', 'write although outputs go by other names than they did'))
      .addOption(new Option('--accept-changes', 'put back a journal that was changed since it was written'))
      .addOption(new Option('--allow-rise', 'with that: send filters that raise a level, too'))
      .addOption(
        new Option('-t, --target <id|path>', 'with that: the target it was made by, if none that is shipped'),
      ),
  )
    .addOption(onlyOption())
    .addOption(yesOption())
    .addOption(journalFolderOption())
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', example)
    .action((journal: string | undefined, options) =>
      runCommand(async (terminal) => (await import('./restore.js')).runRestore(journal, options, terminal)),
    );
