import { createInterface } from 'node:readline';
import { noteTerminalGone } from './terminal.js';

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
