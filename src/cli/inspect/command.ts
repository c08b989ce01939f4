import { Command } from 'commander';
import { addDeskOptions, toOption } from '../words/desk-options.js';
import { addRigGuardOptions } from '../words/guard-options.js';
import {
  addFormOptions,
  dateOption,
  jsonOption,
  quantiserOption,
  targetOption,
  venueOption,
} from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const example = `
Examples:
  bandwright inspect show.json --target log-179 --to 127.0.0.1
  bandwright inspect show.json --target log-179 --to 127.0.0.1 --attenuation 20dB
  bandwright inspect show.json --target log-179 --to 127.0.0.1 --format sheet --output stands.html
`;

/** `inspect`: which of a rig's mixes leave their pilots at risk as the desk stands. */
export const inspectCommand = (): Command =>
  addDeskOptions(
    addFormOptions(
      addRigGuardOptions(
        new Command('inspect')
          .description(
            'Reads over OSC every slot of every mix that feeds an FM stereo link as it stands on the desk, and tells which leave the pilot at risk and why, and what would do better. It writes nothing, and asks nothing of the other mixes.',
          )
          .argument('<rig>', 'a rig, JSON or XML; - for standard input')
          .addOption(targetOption())
          .addOption(toOption().makeOptionMandatory()),
      ),
    ),
  )
    .addOption(quantiserOption())
    .addOption(jsonOption().conflicts('format'))
    .addOption(venueOption())
    .addOption(dateOption())
    .addHelpText('after', example)
    .action((rig: string, options) =>
      runCommand(async (terminal) => (await import('./inspect.js')).runInspect(rig, options, terminal)),
    );
