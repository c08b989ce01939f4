import { Command, Option } from 'commander';
import { parseFrequency, parseGain } from '../../units/parse.js';
import { jsonOption, parsedBy, quantiserOption } from '../options.js';
import { runCommand } from '../run-command.js';

const example = `
Examples:
  bandwright check                      every shipped target, as a table
  bandwright check --target log-201     one target, for every way it may build its filters
`;

/** `check`: how near a desk's bells and notches come to the pilot, and what that costs. */
export const checkCommand = (): Command =>
  new Command('check')
    .summary("how near a desk's notch comes to the pilot")
    .description(
      'Tells the grid frequencies next to the pilot, how far off they are, and what the best bell or notch there takes out at the pilot itself, for each way the desk may build its filters.',
    )
    .addOption(new Option('-t, --target <id|path>', 'one desk; every shipped one where left out'))
    .addOption(
      new Option(
        '--pilot <frequency>',
        'where the pilot is (default: 19 kHz, as FM stereo has it)',
      ).argParser(parsedBy(parseFrequency)),
    )
    .addOption(
      new Option('--keep-high <frequency>', 'keep the music up to here (default: 12 kHz)').argParser(
        parsedBy(parseFrequency),
      ),
    )
    .addOption(
      new Option('--keep-loss <gain>', 'the most the music may lose there (default: 1 dB)').argParser(
        parsedBy(parseGain),
      ),
    )
    .addOption(quantiserOption())
    .addOption(jsonOption())
    .addHelpText('after', example)
    .action((options) =>
      runCommand(async (terminal) => (await import('../check/run-check.js')).runCheck(options, terminal)),
    );
