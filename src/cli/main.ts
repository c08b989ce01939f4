import { CommanderError } from 'commander';
import { problem } from '../model/problem.js';
import { interruptNow, onInterrupt } from '../node/interrupts.js';
import { letGoOfLostTerminal } from '../node/lost-terminal.js';
import { removeUnfinished } from '../node/unfinished.js';
import { printable } from '../units/quote.js';
import { program } from './program.js';
import { exitCodes } from './words/exit-code.js';

let [readerIsGone, isOutputLost] = [false, false];

/**
 * A reader that stopped reading, as `head` does, is no failure; a terminal that was closed or a full disk is. What is
 * half-done comes to a safe end first.
 */
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    isOutputLost ||= error.code !== 'EPIPE';
    if (!readerIsGone && !interruptNow()) process.exit(isOutputLost ? exitCodes.unreachable : exitCodes.done);
    readerIsGone = true;
  });
}

// A command that has more to do before it ends takes over from here.
onInterrupt(() => {
  removeUnfinished();
  process.stderr.write('\nbandwright: interrupted; no output file was left half-written.\n');
  process.exit(exitCodes.interrupted);
});

/** However it ends, also by a module of the user's own: no half-written file, and no success without the file. */
process.on('exit', (code) => {
  if (isOutputLost) process.exitCode = exitCodes.unreachable;
  if (removeUnfinished() > 0 && code === exitCodes.done) {
    process.stderr.write('bandwright: it ended before its output was whole, so nothing was written.\n');
    process.exitCode = exitCodes.unreachable;
  }
  letGoOfLostTerminal();
});

/** With --json a program reads standard output: it is told of a wrong command line as of any other problem. */
const tellProgram = ({ message }: CommanderError): void => {
  const args = process.argv.slice(2);
  const options = args.includes('--') ? args.slice(0, args.indexOf('--')) : args;
  if (!options.includes('--json')) return;
  const told = printable(message.replace(/^error: /, '').replaceAll('\n', ' '));
  const problems = [problem('usage', '', told)];
  process.stdout.write(`${JSON.stringify({ problems }, null, 2)}\n`);
};

/** Does what the command line asks, and leaves the exit code to the process. */
export const main = async (): Promise<void> => {
  try {
    await (await program(process.argv.slice(2))).parseAsync();
  } catch (error) {
    if (error instanceof CommanderError) {
      if (error.exitCode !== 0) tellProgram(error);
      process.exitCode = error.exitCode === 0 ? exitCodes.done : exitCodes.usage;
    } else {
      const told = error instanceof Error ? (error.stack ?? error.message) : String(error);
      process.stderr.write(
        `bandwright: this is a fault of the tool itself, not of your files. No output file was written. Please report it with these lines:\n${told.split('\n').map(printable).join('\n')}\n`,
      );
      process.exitCode = exitCodes.internalFault;
    }
  }
};
