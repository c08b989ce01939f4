import { Command, Option } from 'commander';
import { parseCount } from '../../units/parse.js';
import { keepHighOption, keepLossOption, pilotOption, windowOption } from '../guard-options.js';
import { forceOption, jsonOption, parsedBy, pathOption, quantiserOption } from '../options.js';
import { runCommand } from '../run-command.js';

const example = `
Examples:
  bandwright check                      every shipped target, as a table
  bandwright check --target log-201     one target, for every way it may build its filters
  bandwright check --tradeoff --target log-201    what more music lost would buy there
  bandwright check --hear hear.wav --target log-201    a listener's view, without filters and with
`;

/** `check`: what a desk can do for a pilot, before any rig is fitted on it. */
export const checkCommand = (): Command =>
  new Command('check')
    .summary('how near a desk comes to the pilot, and what it can do there')
    .description(
      'Tells the grid frequencies next to the pilot, how far off they are, and what the best bell or notch there takes out at the pilot itself, for each way the desk may build its filters. With --tradeoff: what the usual protective filters together can do for every loss of music. With --hear: a WAV file of what a listener gets.',
    )
    .addOption(new Option('-t, --target <id|path>', 'one desk; every shipped one where left out'))
    .addOption(
      new Option(
        '--tradeoff',
        'attenuation at the pilot against music lost, as a table and a plot',
      ).conflicts(['hear', 'keepLoss']),
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
    .addOption(forceOption())
    .addOption(pilotOption())
    .addOption(windowOption('100 Hz'))
    .addOption(keepHighOption('12 kHz'))
    .addOption(keepLossOption('1 dB'))
    .addOption(
      new Option(
        '--spare-slots <n>',
        'slots that may be spent on further cuts near the pilot (default: 0)',
      ).argParser(parsedBy((text) => parseCount(text, 0))),
    )
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', example)
    .action((options) =>
      runCommand(async (terminal) => (await import('../check/run-check.js')).runCheck(options, terminal)),
    );
