import { performance } from 'node:perf_hooks';
import type { Clock } from '../../live/session/clock.js';

/** This computer's clock. */
export const systemClock: Clock = {
  nowMs: () => performance.now(),
  wait: (milliseconds, signal) =>
    new Promise((resolve) => {
      if (signal?.aborted) {
        resolve();
        return;
      }
      const done = (): void => {
        clearTimeout(timer);
        signal?.removeEventListener('abort', done);
        resolve();
      };
      const timer = setTimeout(done, milliseconds);
      signal?.addEventListener('abort', done);
    }),
  timeOfDay: () => new Date().toISOString(),
};
