import { Command, Option } from 'commander';
import { addDeskOptions, onlyOption, toOption } from '../words/desk-options.js';
import { jsonOption, quantiserOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';

/** `verify`: reads a desk and tells whether it still stands as a recipe set it. */
export const verifyCommand = (): Command =>
  addDeskOptions(
    new Command('verify')
      .description(
        'Reads a desk over OSC and tells, mix by mix, whether it still stands as a recipe set it. It writes nothing.',
      )
      .argument('<recipe>', 'a recipe, JSON or XML; - for standard input')
      .addOption(toOption().makeOptionMandatory())
      .addOption(
        new Option('-t, --target <id|path>', 'the desk (default: the shipped target the recipe names)'),
      ),
  )
    .addOption(onlyOption())
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  bandwright verify recipe.json --to 127.0.0.1\n')
    .action((recipe: string, options) =>
      runCommand(async (terminal) => (await import('./verify.js')).runVerify(recipe, options, terminal)),
    );
