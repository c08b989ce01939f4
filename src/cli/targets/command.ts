import { Command, Option } from 'commander';
import { knobNames } from '../../model/knob.js';
import { forceOption, jsonOption, outputOption, quantiserOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';
import { newTargetCommand } from './new/command.js';

const list = (): Command =>
  new Command('list')
    .summary('the shipped targets')
    .description('Lists the shipped targets: archetypes to start from, no product is among them.')
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  bandwright targets list\n')
    .action((options) =>
      runCommand(async (terminal) => (await import('./list.js')).runList(options, terminal)),
    );

const show = (): Command =>
  new Command('show')
    .summary('one target: its slots, grids and ways of building')
    .description(
      'Shows one target: what its slots can be, the grids of their knobs, how it may build its filters.',
    )
    .argument('<id|path>', 'a shipped target or a file of your own')
    .addOption(
      new Option('--knob <knob>', 'instead: every value of this knob, and its clicks').choices(knobNames),
    )
    .addOption(new Option('--around <value>', 'of the knob: only values round this one, as in 19k'))
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      '\nExamples:\n  bandwright targets show log-179\n  bandwright targets show log-179 --knob frequency --around 19k\n',
    )
    .action((target: string, options) =>
      runCommand(async (terminal) => (await import('./show.js')).runShow(target, options, terminal)),
    );

const lint = (): Command =>
  new Command('lint')
    .summary('check target files of your own')
    .description('Checks target files: shape, names, grids, and what may surprise whoever dials from them.')
    .argument('<files...>', 'target files, or ids of shipped ones')
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  bandwright targets lint ./our-desk.json\n')
    .action((files: string[], options) =>
      runCommand(async (terminal) => (await import('./lint.js')).runLint(files, options, terminal)),
    );

const convert = (): Command =>
  new Command('convert')
    .summary('turn a file from JSON to XML, or back')
    .description(
      'Turns a rig, intents, target, recipe or journal file from JSON to XML or back; nothing is lost either way.',
    )
    .argument('<file>', 'the file, or the id of a shipped target; - for standard input')
    .addOption(
      new Option('--to <syntax>', 'what it is turned into').choices(['json', 'xml']).makeOptionMandatory(),
    )
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample:\n  bandwright targets convert log-179 --to xml\n')
    .action((file: string, options) =>
      runCommand(async (terminal) => (await import('./convert.js')).runConvert(file, options, terminal)),
    );

/** `targets`: the desks this tool knows, and files that describe one's own. */
export const targetsCommand = (): Command =>
  new Command('targets')
    .description('Targets describe desks: slots, the grids of their knobs, how their filters may be built.')
    .addHelpText('after', '\nExample:\n  bandwright targets show log-179\n')
    .addCommand(list())
    .addCommand(show())
    .addCommand(newTargetCommand())
    .addCommand(lint())
    .addCommand(convert());
