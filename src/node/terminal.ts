import { closeSync } from 'node:fs';
import { createInterface } from 'node:readline';

let isGone = false;

/** Notes that the terminal was closed, as a signal or a failed reading tells. */
export const noteTerminalGone = (): void => {
  isGone = true;
};

/** Whether the terminal was closed, as far as is known. */
export const isTerminalGone = (): boolean => isGone;

/**
 * Closes what may be a terminal that is gone, on the way out. Node.js gives terminals their modes back as it ends, and takes
 * one that no longer answers for a fault of its own: it aborts.
 */
export const letGoOfTerminal = (): void => {
  for (const descriptor of [0, 1, 2]) {
    try {
      closeSync(descriptor);
    } catch {
      // It was closed before.
    }
  }
};

/**
 * Asks a question on a terminal, on standard error, so that standard output stays data. Only `y` or `yes` is a yes;
 * the end of input, the signal, or a terminal that is gone is a no. Ctrl-C while it asks is handed to `onInterrupt`.
 */
export const ask = (question: string, signal: AbortSignal, onInterrupt: () => void): Promise<boolean> =>
  new Promise((resolve) => {
    const lines = createInterface({ input: process.stdin, output: process.stderr });
    const settle = (answer: boolean): void => {
      // Settled before it closes, since closing counts as a no.
      resolve(answer);
      signal.removeEventListener('abort', refuse);
      try {
        lines.close();
      } catch {
        // A terminal does not take its mode back once it is gone.
        noteTerminalGone();
      }
    };
    const refuse = (): void => settle(false);
    const refuseAlone = (): void => {
      noteTerminalGone();
      refuse();
    };
    lines.on('SIGINT', () => {
      process.stderr.write('\n');
      onInterrupt();
    });
    lines.on('close', refuse);
    // Told by either, and also once the question is settled.
    lines.on('error', refuseAlone);
    process.stdin.on('error', refuseAlone);
    signal.addEventListener('abort', refuse);
    if (signal.aborted) refuse();
    else lines.question(question, (answer) => settle(/^y(es)?$/i.test(answer.trim())));
  });
