import { Command } from 'commander';
import { packageVersion } from '../node/package.js';
import { printable } from '../units/quote.js';
import { checkCommand } from './check/command.js';
import { compareCommand } from './compare/command.js';
import { demoCommand } from './demo/command.js';
import { inspectCommand } from './inspect/command.js';
import { journalsCommand } from './journals/command.js';
import { pushCommand } from './push/command.js';
import { recipeCommand } from './recipe/command.js';
import { restoreCommand } from './restore/command.js';
import { standinCommand } from './standin/command.js';
import { targetsCommand } from './targets/command.js';
import { verifyCommand } from './verify/command.js';

const commands = [
  recipeCommand,
  compareCommand,
  checkCommand,
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
  0    done
  1    done, but the result falls short
  2    the command line is wrong
  3    an input file is wrong
  4    a file could not be read or written
  70   a fault of this tool itself
  130  interrupted

Mute, or have performers take the in-ears out, before you switch filters.
This tool is not hearing protection.
`;

/** What was typed stands in the message: nothing of it may reach a terminal that obeys it. */
const printableLines = (text: string): string => text.split('\n').map(printable).join('\n');

/** Makes every command, however deep, report a wrong command line by throwing, so that it exits with 2. */
const throwOnUsageErrors = (command: Command): void => {
  command.exitOverride().showHelpAfterError('Add --help to see how it is used.');
  command.configureOutput({ outputError: (text, write) => write(printableLines(text)) });
  for (const child of command.commands) throwOnUsageErrors(child);
};

/** The whole command line. */
export const program = (): Command => {
  const root = new Command('bandwright').description(description).addHelpText('after', epilogue);
  root.version(packageVersion(), '--version', 'print the version');
  for (const command of commands) root.addCommand(command());
  throwOnUsageErrors(root);
  return root;
};
