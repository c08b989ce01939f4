import { Command } from 'commander';
import { jsonOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';

/** `demo`: the recipe of an invented show, and a rehearsal of pushing it, to see what the tool does. */
export const demoCommand = (): Command =>
  new Command('demo')
    .description(
      'Fits the rig of an invented show on a shipped target and prints its recipe. Then rehearses on a stand-in desk on this computer, over a socket of its own: pushes the recipe, verifies it, and restores what stood there. Nothing else is reached, and nothing is kept.',
    )
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  bandwright demo\n')
    .action((options) =>
      runCommand(async (terminal) => (await import('./demo.js')).runDemo(options, terminal)),
    );
