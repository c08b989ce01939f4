import { createInterface } from 'node:readline';

/**
 * Asks a question on a terminal, on standard error, so that standard output stays data. Only `y` or `yes` is a yes;
 * the end of input or the signal is a no. Ctrl-C while it asks is handed to `onInterrupt`.
 */
export const ask = (question: string, signal: AbortSignal, onInterrupt: () => void): Promise<boolean> =>
  new Promise((resolve) => {
    const lines = createInterface({ input: process.stdin, output: process.stderr });
    const settle = (answer: boolean): void => {
      // Settled before it closes, since closing counts as a no.
      resolve(answer);
      signal.removeEventListener('abort', refuse);
      lines.close();
    };
    const refuse = (): void => settle(false);
    lines.on('SIGINT', () => {
      process.stderr.write('\n');
      onInterrupt();
    });
    lines.on('close', () => settle(false));
    signal.addEventListener('abort', refuse);
    if (signal.aborted) refuse();
    else lines.question(question, (answer) => settle(/^y(es)?$/i.test(answer.trim())));
  });
