import { Command, Option } from 'commander';
import { parseCount } from '../../units/parse.js';
import { addDeskOptions, journalFolderOption, toOption, yesOption } from '../words/desk-options.js';
import {
  forceOption,
  jsonOption,
  parsedBy,
  pathOption,
  quantiserOption,
  targetOption,
} from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const example = `
Of the draft only its addresses, slots and encodings are believed, not its
grids. Nothing is written to any other output than the one that is named, each
of its sections is off before its knobs are turned, and everything is put back
as it was found. Name one that feeds nobody, and mute it.

Example:
  bandwright learn --target log-179 --to 127.0.0.1 --output 18 -o learned.json
`;

const count = (least: number) => parsedBy((text: string) => parseCount(text, least));

/** `learn`: finds out the grids of a desk's knobs. */
export const learnCommand = (): Command =>
  addDeskOptions(
    new Command('learn')
      .description(
        "Finds out the grids of a desk's knobs over OSC, by turning those of one spare output: stops, neighbouring values, what rule they follow, held against places at random. Puts everything back and reads it back.",
      )
      .addOption(targetOption())
      .addOption(toOption().makeOptionMandatory())
      .addOption(
        new Option('--output <n>', 'the spare output whose knobs are turned: it feeds nobody')
          .argParser(count(1))
          .makeOptionMandatory(),
      ),
  )
    .addOption(new Option('--dry-run', 'only read what stands there, and tell what would be turned'))
    .addOption(pathOption('-o, --output-file <path>', 'write the draft with what was learned to this file'))
    .addOption(forceOption())
    .addOption(
      new Option('--seed <n>', 'which places are tried at random, told by a number').argParser(count(0)),
    )
    .addOption(yesOption())
    .addOption(journalFolderOption())
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', example)
    .action((options) =>
      runCommand(async (terminal) => (await import('./live-learn.js')).runLearnLive(options, terminal)),
    );
