import { Command, Option } from 'commander';
import { parseCount } from '../../units/parse.js';
import { addRigGuardOptions } from '../words/guard-options.js';
import {
  addFormOptions,
  csvOption,
  dateOption,
  jsonOption,
  parsedBy,
  quantiserOption,
  targetsOption,
  venueOption,
} from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const notes = `
Order, the best first:
  1  the guard is met on every mix; else the less the pilot falls short,
     then the music lost, then the rise
  2  fewer filters missing
  3  more attenuation at the pilot, by whole decibels
  4  less music lost, by half decibels: nobody hears less
  5  fewer dials to turn
A desk on which the rig does not fit stands last, with the reason.

It ends with 0 where on one desk at least the guard is met and no filter is
missing, or nothing is to be guarded; with 1 where there is no such desk.

Examples:
  bandwright compare show.json
  bandwright compare show.json --targets cut-section,r40,./our-desk.json
  bandwright compare show.json --format sheet --venue Oldmill --output desks.html
`;

/** `compare`: which desk serves a rig best. */
export const compareCommand = (): Command =>
  addFormOptions(
    addRigGuardOptions(
      new Command('compare')
        .description(
          'Makes the recipe of a rig for one desk after the other, and tells which serves it best: whether the guard is met, what the mix that is worst off takes at its pilot and the most music lost over all mixes with one, how many dials there are to turn, which filters are missing, and how sure that is.',
        )
        .argument('<rig>', 'a rig file, JSON or XML; - for standard input')
        .addOption(
          targetsOption(
            '--targets <list>',
            'the desks, by commas: ids or paths (default: every shipped one)',
          ),
        )
        .addOption(
          new Option(
            '--threads <n>',
            'work on so many processor cores at once (default: all there are)',
          ).argParser(parsedBy((text) => parseCount(text, 1))),
        )
        .addOption(csvOption('print CSV instead, a row a desk'))
        .addOption(jsonOption().conflicts('format')),
    ),
  )
    .addOption(quantiserOption())
    .addOption(venueOption())
    .addOption(dateOption())
    .addHelpText('after', notes)
    .action((rig: string, options, command: Command) =>
      runCommand(async (terminal) =>
        (await import('./compare.js')).runCompare(rig, options, terminal, command),
      ),
    );
