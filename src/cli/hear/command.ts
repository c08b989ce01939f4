import { Command, Option } from 'commander';
import { type Db, db } from '../../units/quantity.js';
import { fail, ok, type Result } from '../../units/result.js';
import { parseTyped, readNumber } from '../../units/typed.js';
import { addGuardOptions, spareSlotsOption } from '../words/guard-options.js';
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
Example:
  bandwright hear --target cut-section --output hear.wav
`;

/** As rigs may state it. */
const [lowestDbfs, highestDbfs] = [-60, 24];

/** A line-up in dBFS: `-6`, `-6 dBFS`. */
const parseLineUp = (text: string): Result<Db, string> =>
  parseTyped(text, {
    allowed: `a line-up is ${lowestDbfs} to ${highestDbfs} dBFS, as in "-6 dBFS" or "-6"`,
    read: (typed) => {
      const level = readNumber(typed, { '': 0, db: 0, dbfs: 0 });
      if (!level.ok) return level;
      const isAllowed = lowestDbfs <= level.value && level.value <= highestDbfs;
      return isAllowed ? ok(db(level.value)) : fail('is outside of that');
    },
  });

/** Long enough to hear the pilot lost, and short enough to be held whole. */
const [leastSeconds, mostSeconds] = [1, 30];

/** A length in seconds: `10`, `1.5 s`. */
const parseSeconds = (text: string): Result<number, string> =>
  parseTyped(text, {
    allowed: `a part lasts ${leastSeconds} to ${mostSeconds} seconds, as in "10 s" or "10"`,
    read: (typed) => {
      const seconds = readNumber(typed, { '': 0, s: 0 });
      if (!seconds.ok) return seconds;
      const isAllowed = leastSeconds <= seconds.value && seconds.value <= mostSeconds;
      return isAllowed ? seconds : fail('is outside of that');
    },
  });

const parseSoundPath = (path: string): Result<string, string> =>
  path === '' || path === '-'
    ? fail('Sound goes to a file here, not to standard output: name a file, as in --output hear.wav.')
    : ok(path);

/** `hear`: what a listener gets, without the protection and with it. */
export const hearCommand = (): Command =>
  addGuardOptions(
    new Command('hear')
      .description(
        'Fits the usual protective filters on a desk and renders what a listener of an FM stereo link gets: a built-in programme without the filters, then with them, as a WAV file. What was taken for the link is told on standard error.',
      )
      .addOption(targetOption())
      .addOption(
        new Option(
          '--realisation <id>',
          'the way the filters are built (default: the one that attenuates the pilot least)',
        ),
      )
      .addOption(
        new Option(
          '--line-up <level>',
          'the level in dBFS at which a 1 kHz sine takes 90 % of deviation (default: 0 dBFS)',
        ).argParser(parsedBy(parseLineUp)),
      )
      .addOption(
        new Option(
          '--seconds <n>',
          'how many seconds, 1 to 30, it lasts without the filters and again with them (default: 4.5)',
        ).argParser(parsedBy(parseSeconds)),
      )
      .addOption(jsonOption()),
    ['pilot', 'window', 'keepHigh', 'keepLoss', 'keepLossToReach', 'attenuation'],
  )
    .addOption(spareSlotsOption())
    .addOption(
      pathOption('-o, --output <file.wav>', 'write to this file, or into this folder where it ends in /')
        .argParser(parsedBy(parseSoundPath))
        .makeOptionMandatory(),
    )
    .addOption(forceOption())
    .addOption(quantiserOption())
    .addHelpText('after', example)
    .action((options) =>
      runCommand(async (terminal) => (await import('./hear.js')).runHear(options, terminal)),
    );
