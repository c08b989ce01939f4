import { Command } from 'commander';
import { jsonOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';

/** `demo`: the recipe of an invented show, to see what the tool does. */
export const demoCommand = (): Command =>
  new Command('demo')
    .summary('the recipe of an invented show')
    .description('Fits the rig of an invented show on a shipped target and prints its recipe.')
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  bandwright demo\n')
    .action((options) =>
      runCommand(async (terminal) => (await import('./demo.js')).runDemo(options, terminal)),
    );
