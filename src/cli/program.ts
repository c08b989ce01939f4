import { Command, Help } from 'commander';
import { packageVersion } from '../node/package.js';
import { printable } from '../units/quote.js';
import { checkCommand } from './check/command.js';
import { compareCommand } from './compare/command.js';
import { demoCommand } from './demo/command.js';
import { hearCommand } from './hear/command.js';
import { inspectCommand } from './inspect/command.js';
import { journalsCommand } from './journals/command.js';
import { pushCommand } from './push/command.js';
import { recipeCommand } from './recipe/command.js';
import { restoreCommand } from './restore/command.js';
import { standinCommand } from './standin/command.js';
import { targetsCommand } from './targets/command.js';
import { tradeoffCommand } from './tradeoff/command.js';
import { verifyCommand } from './verify/command.js';
import { helpGroups } from './words/options.js';

const commands = [
  recipeCommand,
  compareCommand,
  checkCommand,
  tradeoffCommand,
  hearCommand,
  pushCommand,
  verifyCommand,
  inspectCommand,
  restoreCommand,
  journalsCommand,
  targetsCommand,
  standinCommand,
  demoCommand,
];

const description =
  "Fits in-ear protection filters to any desk's real knobs: a low cut, a cut at the pilot and a high cut on every mix that feeds an FM stereo transmitter, and nothing on the others. Tells what to dial, how far that lies from what was asked, and what it does to the pilot and the music.";

const epilogue = `
Example:
  bandwright recipe show.json --target log-179

Exit codes:
  0    done, and what was to hold holds
  1    done, but the result falls short
  2    the command line is wrong
  3    an input file is wrong
  4    the desk or a file could not be reached or written
  70   a fault of this tool itself
  130  interrupted, in a safe state that the last line describes

Mute, or have performers take the in-ears out, before you switch filters.
This tool is not hearing protection.
`;

/** What was typed stands in the message: nothing of it may reach a terminal that obeys it. */
const printableLines = (text: string): string => text.split('\n').map(printable).join('\n');

const groupOrder: readonly string[] = ['Options:', ...Object.values(helpGroups)];

/** Groups of options in one order in every help text, the common ones first, in whichever order a command adds them. */
const groupItems: Help['groupItems'] = (all, visible, groupOf) =>
  new Map(
    [...new Help().groupItems(all, visible, groupOf)].sort(
      ([one], [other]) => groupOrder.indexOf(one) - groupOrder.indexOf(other),
    ),
  );

/** Makes every command, however deep, tell its options in order, and throw on a wrong command line, to exit with 2. */
const setUp = (command: Command): void => {
  command.configureHelp({ groupItems });
  command.exitOverride().showHelpAfterError('Add --help to see how it is used.');
  command.configureOutput({ outputError: (text, write) => write(printableLines(text)) });
  for (const child of command.commands) setUp(child);
};

/** The whole command line. */
export const program = (): Command => {
  const root = new Command('bandwright').description(description).addHelpText('after', epilogue);
  root.version(packageVersion(), '--version', 'print the version');
  for (const command of commands) root.addCommand(command());
  setUp(root);
  return root;
};
