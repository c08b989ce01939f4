import { wrap } from '../../layout/wrap.js';
import { onInterrupt } from '../../node/interrupts.js';
import type { Terminal } from '../words/terminal.js';

const told = 'Interrupted: coming to a safe end. Ctrl-C again to stop where it is.';

/** What Ctrl-C asks for: once, to come to a safe end; twice, to stop where it is. */
export interface Interruption {
  readonly signal: AbortSignal;
  readonly hardSignal: AbortSignal;
  /** As if Ctrl-C had been pressed. */
  interrupt(): void;
}

/** Does some work during which Ctrl-C ends nothing by itself. */
export const withInterrupts = async <Result>(
  terminal: Terminal,
  work: (interruption: Interruption) => Promise<Result>,
): Promise<Result> => {
  const [first, second] = [new AbortController(), new AbortController()];
  const interrupt = (): void => {
    if (first.signal.aborted) {
      second.abort();
      return;
    }
    terminal.progress(null);
    for (const line of wrap(told, terminal.columns)) terminal.err(line);
    first.abort();
  };
  const release = onInterrupt(interrupt);
  try {
    return await work({ signal: first.signal, hardSignal: second.signal, interrupt });
  } finally {
    release();
  }
};
