import { Command, Option } from 'commander';
import { parseCount } from '../../units/parse.js';
import { lineUpOption } from '../hear/line-up-option.js';
import { addDeskOptions, toOption } from '../words/desk-options.js';
import {
  attenuationOption,
  keepHighOption,
  keepLossOption,
  keepLossToReachOption,
  pilotOption,
  windowOption,
} from '../words/guard-options.js';
import { forceOption, jsonOption, parsedBy, pathOption, quantiserOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';
import type { CheckOptions } from './check-options.js';

const example = `
Examples:
  bandwright check                      every shipped target, as a table
  bandwright check --target r40,./our-desk.json    some, files of your own among them
  bandwright check --target octave-12    one target, for every way it may build its filters
  bandwright check --tradeoff --target log-179    what more music lost would buy there
  bandwright check --hear hear.wav --target cut-section    a listener's view, without filters and with
  bandwright check show.json --target log-179 --to 127.0.0.1    a rig as it stands on the desk
`;

/** Settings of the desk's line that nobody typed are none where no desk is named. */
const withoutDefaults = (options: CheckOptions, command: Command): CheckOptions =>
  options.to === undefined
    ? (Object.fromEntries(
        Object.entries(options).filter(
          ([name]) => name === 'quantiser' || command.getOptionValueSource(name) !== 'default',
        ),
      ) as unknown as CheckOptions)
    : options;

/** `check`: what a desk can do for a pilot, before any rig is fitted on it; or what a rig's mixes do to it now. */
export const checkCommand = (): Command =>
  addDeskOptions(checkAlone())
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', example)
    .action((rig: string | undefined, options: CheckOptions, command: Command) =>
      runCommand(async (terminal) =>
        (await import('./check.js')).runCheck(rig, withoutDefaults(options, command), terminal),
      ),
    );

const checkAlone = (): Command =>
  new Command('check')
    .summary('what a desk can do for a pilot; what a rig does to it now')
    .description(
      'Tells the frequencies next to the pilot that the bells and notches of a desk can take, how far off they are, and what one setting of one of them takes there, over all ways the desk may build its filters. It tells grids apart, not desks: for that there is bandwright compare. With --tradeoff: what the usual protective filters together can do for every loss of music. With --hear: a WAV file of what a listener gets. With a rig and --to: reads every slot of every mix that feeds an FM stereo link as it stands on the desk, and tells which leave the pilot at risk and why; it writes nothing.',
    )
    .argument('[rig]', 'with --to: a rig file, JSON or XML; - for standard input')
    .addOption(
      new Option(
        '-t, --target <id|path>',
        'a desk, or several by commas; every shipped one where left out',
      ).argParser((text: string, before: string | undefined) =>
        before === undefined ? text : `${before},${text}`,
      ),
    )
    .addOption(
      new Option(
        '--tradeoff',
        'attenuation at the pilot against music lost, as a table and a plot',
      ).conflicts(['hear', 'keepLoss', 'keepLossToReach']),
    )
    .addOption(new Option('--csv', 'with --tradeoff: print CSV instead').conflicts('json'))
    .addOption(
      pathOption('--hear <file.wav>', 'render a built-in programme without the filters, then with them'),
    )
    .addOption(
      new Option(
        '--realisation <id>',
        'with --hear: the way the filters are built (default: the one that attenuates the pilot least)',
      ),
    )
    .addOption(lineUpOption())
    .addOption(forceOption())
    .addOption(pilotOption())
    .addOption(windowOption('100 Hz, or as the rig asks'))
    .addOption(keepHighOption('12 kHz, or as the rig asks'))
    .addOption(keepLossOption('as the rig asks, or what the filters as asked would cost'))
    .addOption(keepLossToReachOption('as the rig asks, or 3 dB'))
    .addOption(attenuationOption('as the rig asks, or what pre-emphasis adds there'))
    .addOption(
      new Option(
        '--spare-slots <n>',
        'slots that may be spent on further cuts near the pilot (default: 0)',
      ).argParser(parsedBy((text) => parseCount(text, 0))),
    )
    .addOption(toOption().conflicts(['tradeoff', 'csv', 'hear', 'realisation', 'lineUp', 'force', 'pilot']));
