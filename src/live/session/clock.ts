/** Time as it is passed in: nothing here looks at a clock of its own. */
export interface Clock {
  /** Milliseconds that only rise; counted from anywhere. */
  nowMs(): number;
  /** Fulfilled after so many milliseconds, or at once when the signal is given; never rejected. */
  wait(milliseconds: number, signal?: AbortSignal): Promise<void>;
  /** The time of day, as ISO 8601 in UTC. */
  timeOfDay(): string;
}

/** How much late sends may be made up for, since timers wake late. */
const catchUpMs = 20;

/** Waits for each message's turn, so that no more than so many leave in a second. */
export const makeRateLimit = (clock: Clock, ratePerSecond: number) => {
  const intervalMs = 1000 / ratePerSecond;
  let dueMs = Number.NEGATIVE_INFINITY;
  return async (signal: AbortSignal): Promise<void> => {
    const nowMs = clock.nowMs();
    const turnMs = Math.max(dueMs, nowMs - catchUpMs);
    dueMs = turnMs + intervalMs;
    if (turnMs > nowMs) await clock.wait(turnMs - nowMs, signal);
  };
};
