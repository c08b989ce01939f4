import type { Clock } from '../../src/live/session/clock.js';

interface Timer {
  readonly dueMs: number;
  readonly wake: () => void;
}

/** A clock that a test turns: time passes only while nothing else is left to do. */
export const virtualTime = () => {
  let nowMs = 0;
  let timers: readonly Timer[] = [];
  const at = (delayMs: number, wake: () => void): (() => void) => {
    const timer = { dueMs: nowMs + Math.max(0, delayMs), wake };
    timers = [...timers, timer];
    return () => {
      timers = timers.filter((each) => each !== timer);
    };
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
      const [next] = [...timers].sort((a, b) => a.dueMs - b.dueMs);
      if (!next) throw new Error('nothing is left to wait for, and the work is not done');
      timers = timers.filter((each) => each !== next);
      nowMs = next.dueMs;
      next.wake();
    }
  };
  return { clock, at, run };
};
