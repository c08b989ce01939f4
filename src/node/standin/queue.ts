import type { Clock } from '../../live/session/clock.js';

/** More than ever wait at a rehearsal; beyond, the next ones go at once rather than fill the memory. */
const mostWaiting = 20_000;

/** Acts that are due later. */
export interface Queue {
  /** At once where there is nothing to wait for, so that what is not held back keeps its order. */
  after(delayMs: number, act: () => void): void;
  /** Nothing is done any more. */
  close(): void;
}

export const makeQueue = (clock: Clock): Queue => {
  const waiting = new Set<AbortController>();
  let isClosed = false;
  return {
    after: (delayMs, act) => {
      if (isClosed) return;
      if (delayMs <= 0 || waiting.size >= mostWaiting) {
        act();
        return;
      }
      const wait = new AbortController();
      waiting.add(wait);
      void clock.wait(delayMs, wait.signal).then(() => {
        waiting.delete(wait);
        if (!isClosed) act();
      });
    },
    close: () => {
      isClosed = true;
      for (const wait of waiting) wait.abort();
    },
  };
};
