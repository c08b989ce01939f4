import { Command, Option } from 'commander';
import { parseCount } from '../../units/parse.js';
import { addDeskOptions, toOption } from '../words/desk-options.js';
import {
  attenuationOption,
  keepHighOption,
  keepLossOption,
  keepLossToReachOption,
  windowOption,
} from '../words/guard-options.js';
import { jsonOption, parsedBy, quantiserOption, targetOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const example = `
Examples:
  bandwright inspect show.json --target log-179 --to 127.0.0.1
  bandwright inspect show.json --target log-179 --to 127.0.0.1 --attenuation 20dB
`;

/** `inspect`: which of a rig's mixes leave their pilots at risk as the desk stands. */
export const inspectCommand = (): Command =>
  addDeskOptions(
    new Command('inspect')
      .summary('which mixes leave their pilots at risk now? reads only')
      .description(
        'Reads over OSC every slot of every mix that feeds an FM stereo link as it stands on the desk, and tells which leave the pilot at risk and why, and what would do better. It writes nothing, and asks nothing of the other mixes.',
      )
      .argument('<rig>', 'a rig, JSON or XML; - for standard input')
      .addOption(targetOption())
      .addOption(toOption().makeOptionMandatory())
      .addOption(attenuationOption('as the rig asks, or what pre-emphasis adds there'))
      .addOption(windowOption('100 Hz, or as the rig asks'))
      .addOption(keepHighOption('12 kHz, or as the rig asks'))
      .addOption(keepLossOption('as the rig asks, or what the filters as asked would cost'))
      .addOption(keepLossToReachOption('as the rig asks, or 3 dB'))
      .addOption(
        new Option(
          '--spare-slots <n>',
          'slots that a recipe may spend on further cuts near the pilot (default: 0)',
        ).argParser(parsedBy((text) => parseCount(text, 0))),
      ),
  )
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', example)
    .action((rig: string, options) =>
      runCommand(async (terminal) => (await import('./inspect.js')).runInspect(rig, options, terminal)),
    );
