/** Time as it is passed in: nothing here looks at a clock of its own. */
export interface Clock {
  /** Milliseconds that only rise; counted from anywhere. */
  nowMs(): number;
  /** Fulfilled after so many milliseconds, or at once when the signal is given; never rejected. */
  wait(milliseconds: number, signal?: AbortSignal): Promise<void>;
  /** The time of day, as ISO 8601 in UTC. */
  timeOfDay(): string;
}
