import { Argument, Command, Option } from 'commander';
import { knobNames } from '../../model/knob.js';
import { type Problem, problem } from '../../model/problem.js';
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
import { runCommand, stopOn } from '../words/run-command.js';

const example = `
Readings are values as the screen shows them, one click apart: 18.67k 19.32k
20.00k stop. Where they are not, say how many clicks lie between (40 clicks
down), or .. where nobody counted. "stop" comes after a value at a stop, "!"
after one that was read twice.

With --target nothing is typed: of the draft only its addresses, slots and
encodings are believed, not its grids. Nothing is written to any other output
than the one that is named, and everything is put back as it was found. Each of
its sections is off before its knobs are turned; without an address of a switch
only frequency and width are, where the gain reads 0 dB. The other leg of a pair
that shares its filters is only read, has to stand alike, and has to be spare
too. Name an output that feeds nobody, and mute it.

Examples:
  bandwright learn frequency            asks for one reading after the other
  bandwright learn frequency --readings "18.67k 19.32k 20.00k stop .. 20.0 stop"
  bandwright learn --target log-179 --to 127.0.0.1 --output 18 -o learned.json
`;

const count = (least: number) => parsedBy((text: string) => parseCount(text, least));

/** Options that belong to readings that are typed, and those that belong to a desk on the network. */
const ofReadings = ['readings', 'digits', 'steps', 'lastDigit'] as const;
const ofDesk = [
  ...['target', 'to', 'output', 'dryRun', 'outputFile', 'force', 'seed', 'yes', 'journalFolder', 'quantiser'],
  ...['transport', 'rate', 'timeout', 'retries', 'allowBroadcast'],
] as const;

const flagOf = (name: string): string =>
  `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

/** What is missing or does not go together; null where nothing is. */
const usageProblem = (knob: string | undefined, command: Command): Problem | null => {
  const isTyped = (name: string): boolean => command.getOptionValueSource(name) === 'cli';
  const stray = (knob === undefined ? ofReadings : ofDesk).find(isTyped);
  if (stray !== undefined) {
    const told =
      knob === undefined
        ? 'It goes with a knob whose readings are typed, as in bandwright learn frequency --readings "...".'
        : 'It goes with a desk on the network, and without the name of a knob: bandwright learn --target FILE --to HOST --output N.';
    return problem('usage', flagOf(stray), told);
  }
  const missing = knob === undefined ? ['target', 'to', 'output'].find((name) => !isTyped(name)) : undefined;
  if (missing === undefined) return null;
  const told = `It is needed to learn from a desk on the network. To learn from what its screen shows, name the knob: ${knobNames.join(', ')}.`;
  return problem('usage', flagOf(missing), told);
};

/** `learn`: finds out the grids of a desk's knobs, from readings or over OSC. */
export const learnCommand = (): Command =>
  addDeskOptions(
    new Command('learn')
      .description(
        "Finds out the grid of a desk's knob: from a few values read off its screen, with the next reading that would tell most; or by itself over OSC, by turning the knobs of one spare output, which are put back and read back.",
      )
      .addArgument(new Argument('[knob]', 'the knob that readings are of').choices(knobNames))
      .addOption(new Option('--readings <values>', 'what the screen showed; asked for where left out'))
      .addOption(
        new Option(
          '--digits <n>',
          'how many digits the screen shows, where ending zeros are not typed',
        ).argParser(count(1)),
      )
      .addOption(
        new Option('--steps <n>', 'how many values the knob has, where that is known').argParser(count(2)),
      )
      .addOption(
        new Option('--last-digit <way>', 'how the screen makes its last digit, where that is known').choices([
          'rounded',
          'cut',
        ]),
      )
      .addOption(targetOption().makeOptionMandatory(false))
      .addOption(toOption())
      .addOption(
        new Option('--output <n>', 'the spare output whose knobs are turned: it feeds nobody').argParser(
          count(1),
        ),
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
    .action((knob, options, command: Command) =>
      runCommand(async (terminal) => {
        const wrong = usageProblem(knob, command);
        if (wrong) return stopOn([wrong], terminal, options.json === true);
        if (knob === undefined) return (await import('./live-learn.js')).runLearnLive(options, terminal);
        return (await import('./from-readings.js')).runFromReadings(knob, options, terminal);
      }),
    );
