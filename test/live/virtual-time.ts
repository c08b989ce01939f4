import type { Clock } from '../../src/live/session/clock.js';

interface Timer {
  readonly dueMs: number;
  readonly wake: () => void;
}

/** A clock that a test turns: time passes only while nothing else is left to do. */
export const virtualTime = () => {
  let nowMs = 0;
  const timers = new Set<Timer>();
  const at = (delayMs: number, wake: () => void): (() => void) => {
    const timer = { dueMs: nowMs + Math.max(0, delayMs), wake };
    timers.add(timer);
    return () => timers.delete(timer);
  };
  /** The one that is due first; of several, the one that was asked for first. */
  const first = (): Timer | null => {
    let found: Timer | null = null;
    for (const timer of timers) if (found === null || timer.dueMs < found.dueMs) found = timer;
    return found;
  };
  const clock: Clock = {
    nowMs: () => nowMs,
    wait: (milliseconds, signal) =>
      new Promise((resolve) => {
        if (signal?.aborted) {
          resolve();
          return;
        }
        const stop = (): void => {
          cancel();
          resolve();
        };
        const cancel = at(milliseconds, () => {
          signal?.removeEventListener('abort', stop);
          resolve();
        });
        signal?.addEventListener('abort', stop, { once: true });
      }),
    timeOfDay: () => new Date(nowMs).toISOString(),
  };
  /** Lets time pass until some work is done. */
  const run = async <Value>(work: Promise<Value>): Promise<Value> => {
    let isDone = false;
    const settled = work.finally(() => {
      isDone = true;
    });
    settled.catch(() => undefined);
    for (;;) {
      // Everything that can happen now happens before time passes.
      await new Promise((resolve) => setImmediate(resolve));
      if (isDone) return settled;
      const next = first();
      if (!next) throw new Error('nothing is left to wait for, and the work is not done');
      timers.delete(next);
      nowMs = next.dueMs;
      next.wake();
    }
  };
  return { clock, at, run };
};
