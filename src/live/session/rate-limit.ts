import type { Clock } from './clock.js';

/** How much late sends may be made up for, since timers wake late. */
const catchUpMs = 20;

/** Waits for each message's turn, so that no more than so many leave in a second. */
export const makePace = (clock: Clock, ratePerSecond: number) => {
  const intervalMs = 1000 / ratePerSecond;
  let dueMs = Number.NEGATIVE_INFINITY;
  return async (signal: AbortSignal): Promise<void> => {
    const nowMs = clock.nowMs();
    const turnMs = Math.max(dueMs, nowMs - catchUpMs);
    dueMs = turnMs + intervalMs;
    if (turnMs > nowMs) await clock.wait(turnMs - nowMs, signal);
  };
};
