import { Command, Option } from 'commander';
import { addGuardOptions } from '../words/guard-options.js';
import { addFormOptions, jsonOption, quantiserOption, targetsOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';
import { addTypedOptions } from './typed-options.js';

const example = `
Examples:
  bandwright check                      every shipped target, as a table
  bandwright check --target r40,./our-desk.json    some, files of your own among them
  bandwright check --target octave-12    one target, for every way it may build its filters
  bandwright check --frequencies 18.67k,19.32k --q 0.4..12    what a screen shows
  bandwright check --target log-179 --format sheet --output check.html
`;

/** Options that are commands now, each with what is typed instead. */
const movedOptions = [
  {
    name: 'tradeoff',
    flags: '--tradeoff',
    told: 'It is a command of its own now: bandwright tradeoff --target log-179',
  },
  {
    name: 'hear',
    flags: '--hear [file]',
    told: 'It is a command of its own now: bandwright hear --target log-179 --output hear.wav',
  },
  {
    name: 'to',
    flags: '--to [host]',
    told: 'What a rig does on a desk is a command of its own now: bandwright inspect show.json --target log-179 --to 192.0.2.7',
  },
];

/** Tells whoever types an option as it once was what to type. */
const addMovedOptions = (command: Command): Command =>
  movedOptions.reduce(
    (to, { name, flags, told }) =>
      to
        .addOption(new Option(flags).hideHelp())
        .on(`option:${name}`, () => to.error(`error: check has no option --${name}. ${told}`)),
    command,
  );

/** `check`: how near desks come to a pilot, before any rig is fitted on them. */
export const checkCommand = (): Command =>
  addFormOptions(
    addGuardOptions(
      addTypedOptions(
        addMovedOptions(new Command('check'))
          .description(
            'Tells the frequencies next to the pilot that the bells and notches of a desk can take, how far off they are, and what one setting of one of them takes there, over all ways the desk may build its filters. It tells grids apart, not desks: for that there is bandwright compare.',
          )
          .addOption(
            targetsOption(
              '-t, --target <id|path>',
              'a desk, or several by commas; every shipped one where left out',
            ),
          ),
      ),
      ['pilot', 'window', 'keepHigh', 'keepLoss'],
    ),
  )
    .addOption(quantiserOption())
    .addOption(jsonOption().conflicts('format'))
    .addHelpText('after', example)
    .action((options) =>
      runCommand(async (terminal) => (await import('./check.js')).runCheck(options, terminal)),
    );
