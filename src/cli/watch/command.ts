import { Command, Option } from 'commander';
import { mostWatchRate, usualWatchMs } from '../../live/watch/watch-state.js';
import { formatExact } from '../../units/format.js';
import { fail, ok } from '../../units/result.js';
import { addDeskOptions, onlyOption, toOption } from '../words/desk-options.js';
import { parsedBy, quantiserOption } from '../words/options.js';
import { runCommand } from '../words/run-command.js';

const more = `
It goes on until Ctrl-C, then tells how long each mix stood, and exits with 0
where every mix stood whenever it was read, 1 where something had changed, 4
where the desk is silent at the end, or what was told could not be written.

Example:
  bandwright watch recipe.json --to 127.0.0.1 --for 0.1
`;

/** A number of seconds or minutes, in decimals. */
const timeFrom = (least: number, most: number, unit: string) =>
  parsedBy((text) => {
    const time = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
    const allowed = `${formatExact(least)} to ${formatExact(most)} ${unit}`;
    return time >= least && time <= most ? ok(time) : fail(`Give ${allowed}, as in ${formatExact(10)}.`);
  });

/** `watch`: reads a desk through the show, and tells when it no longer stands as a recipe set it. */
export const watchCommand = (): Command =>
  addDeskOptions(
    new Command('watch')
      .description(
        'Reads a desk over OSC through the show, at a gentle rate, and tells at once when a mix no longer stands as its recipe set it, what that does to the pilot, and when the desk falls silent and comes back. It writes nothing.',
      )
      .argument('<recipe>', 'a recipe, JSON or XML; - for standard input')
      .addOption(toOption().makeOptionMandatory())
      .addOption(
        new Option('-t, --target <id|path>', 'the desk (default: the shipped target the recipe names)'),
      ),
    { usual: mostWatchRate, most: mostWatchRate },
  )
    .addOption(onlyOption())
    .addOption(
      new Option('--every <seconds>', 'how often every value is read, 1 to 3600')
        .argParser(timeFrom(1, 3600, 'seconds'))
        .default(usualWatchMs / 1000),
    )
    .addOption(
      new Option('--for <minutes>', 'end by itself after so long, up to a week').argParser(
        timeFrom(0.05, 10_080, 'minutes'),
      ),
    )
    .addOption(new Option('--bell', "ring the terminal's bell when something is amiss"))
    .addOption(quantiserOption())
    .addOption(new Option('--json', 'print an object of JSON a line: each event, and a summary last'))
    .addHelpText('after', more)
    .action((recipe: string, options) =>
      runCommand(async (terminal) => (await import('./watch.js')).runWatch(recipe, options, terminal)),
    );
