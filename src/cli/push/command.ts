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
  bandwright recipe show.json --target log-179 --format json --output recipe.json
  bandwright standin --target log-179 --rig show.json     a desk to rehearse on
  bandwright push recipe.json --to 127.0.0.1              what is set there
  bandwright push recipe.json --dry-run                   what would be sent

What stands on the desk is read and kept in a journal first; restore puts it
back. Mute, or have performers take the in-ears out, before you push, and start
low afterwards.
`;

/** `push`: writes a recipe to a desk over OSC, reads every value back, and keeps what was there. */
export const pushCommand = (): Command =>
  addDeskOptions(
    new Command('push')
      .description(
        'Writes a recipe to a desk over OSC: reads and keeps what stands there, writes in an order that makes no noise, reads every value back, and tells how each mix was left.',
      )
      .argument('<recipe>', 'a recipe, JSON or XML; - for standard input')
      .addOption(toOption())
      .addOption(
        new Option('-t, --target <id|path>', 'the desk (default: the shipped target the recipe names)'),
      ),
  )
    .addOption(onlyOption())
    .addOption(new Option('--dry-run', 'print the messages that would be sent; write nothing'))
    .addOption(new Option('--allow-rise', 'send filters that raise a level'))
    .addOption(new Option('--accept-names', 'write although outputs go by other names on the desk'))
    .addOption(new Option('--blind', 'write to a desk that cannot be read: nothing is kept, nothing proved'))
    .addOption(yesOption())
    .addOption(journalFolderOption())
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', example)
    .action((recipe: string, options) =>
      runCommand(async (terminal) => (await import('./push.js')).runPush(recipe, options, terminal)),
    );
