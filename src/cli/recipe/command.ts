import { Command, Option } from 'commander';
import { exporterNames } from '../../exporters/names.js';
import { fitNames } from '../../fitting/fit.js';
import { parseOutputs } from '../../units/parse.js';
import { addRigGuardOptions } from '../words/guard-options.js';
import {
  dateOption,
  forceOption,
  jsonOption,
  outputOption,
  parsedBy,
  quantiserOption,
  targetOption,
  venueOption,
} from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const example = `
Examples:
  bandwright recipe show.json --target log-179
  bandwright recipe show.json --target ./our-desk.json --format text,csv --output recipes/
  bandwright recipe show.json --target log-179 --format sheet --output show.html
`;

const formatOption = () =>
  new Option('-f, --format <names>', `formats, by commas: ${exporterNames.join(', ')}`)
    .argParser((text) => text.split(','))
    .default(['text'], 'text');

/** `recipe`: fits a rig, or an intents file, on a target and tells what to dial. */
export const recipeCommand = (): Command =>
  addRigGuardOptions(
    new Command('recipe')
      .description(
        'Fits the filters of a rig file, or of an intents file, on a desk, and tells what to dial and what it does to the pilot and the music; with --full also how far that lies from what was asked, what else could be had, and what was assumed.',
      )
      .argument('<rig>', 'a rig file or an intents file, JSON or XML; - for standard input')
      .addOption(targetOption())
      .addOption(formatOption())
      .addOption(
        new Option(
          '--full',
          'the whole text: also how far off each knob lies, the choice by hand, assumptions, cautions',
        ),
      )
      .addOption(new Option('--plot', 'in the text: what the filters do over frequency, drawn in characters'))
      .addOption(
        new Option(
          '--fit <name>',
          'how steps are chosen (default: protect for a rig, match for an intents file)',
        ).choices(fitNames),
      )
      .addOption(
        new Option('--outputs <n|n/n>', 'for an intents file: the desk outputs it is for').argParser(
          parsedBy(parseOutputs),
        ),
      )
      .addOption(jsonOption().conflicts('format')),
  )
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(quantiserOption())
    .addOption(venueOption())
    .addOption(dateOption())
    .addHelpText('after', example)
    .action((rig: string, options, command: Command) =>
      runCommand(async (terminal) =>
        (await import('./recipe.js')).runRecipe(rig, options, terminal, command),
      ),
    );
