import { endSafely } from '../../node/interrupts.js';
import { isTerminalGone, letGoOfTerminal } from '../../node/terminal.js';
import { exitCodes } from './exit-code.js';

const reasons: Readonly<Record<string, string>> = {
  EPIPE: 'nobody reads it any more',
  EIO: 'the terminal is gone',
  ENOSPC: 'there is no room left',
};

/** The outputs that take no more, and why. */
const lost = new Map<NodeJS.WriteStream, string>();

/** Whether what is told must not be lost, as where a desk has been written to. */
let matters = false;

/** Whether more is lost than a reader who has seen enough, as `head` has. */
let isFailure = false;

const lose = (stream: NodeJS.WriteStream, { code = '', message }: NodeJS.ErrnoException): void => {
  if (lost.has(stream)) return;
  lost.set(stream, reasons[code] ?? message);
  isFailure ||= matters || code !== 'EPIPE';
  // Without its data a command has nothing left to do, but where something is under way; without its messages it has.
  if (endSafely() || matters || stream !== process.stdout) return;
  process.exit(isFailure ? exitCodes.unreachable : exitCodes.done);
};

/**
 * What happens once an output takes no more, because its reader, its terminal or the room on its disk is gone: what is
 * under way on a desk comes to a safe end, nothing ends with a fault of the tool, and whoever can still be told is told.
 */
export const outliveOutputs = (): void => {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => lose(stream, error));
  }
  process.on('exit', () => {
    const reason = lost.get(process.stdout);
    if (isFailure) process.exitCode = exitCodes.unreachable;
    if (isFailure && reason !== undefined && !lost.has(process.stderr)) {
      process.stderr.write(`bandwright: standard output is not whole: ${reason}.\n`);
    }
    if (isTerminalGone() || lost.size > 0) letGoOfTerminal();
  });
};

/** From now on also a reader who has seen enough makes a failure of what is lost. */
export const outputMatters = (): void => {
  matters = true;
  isFailure ||= lost.size > 0;
};
