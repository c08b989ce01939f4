import type { Clock } from './clock.js';
import type { RetryPolicy } from './session.js';

const longestWaitMs = 1000;

/** How long the answers to what is sent for the nth time are waited for, counted from 0. */
export const answerWaitMs = ({ timeoutMs }: RetryPolicy, nth: number): number =>
  Math.min(Math.max(longestWaitMs, timeoutMs), timeoutMs * 1.5 ** nth);

/** A desk that has never answered is not waited for as long as one that has: 2.5 s with the usual policy. */
const firstAnswerShare = 1.25;

/**
 * How long nothing may come back from a desk before it counts as lost: before its first answer so that whoever waits is
 * told soon; afterwards nearly as long as one question is repeated, so that it is known before a question is given up.
 */
export const makeSilence = (clock: Clock, retry: RetryPolicy) => {
  const { timeoutMs, retries } = retry;
  const firstMs = timeoutMs * (retries + 1) * firstAnswerShare;
  const waitsMs = Array.from({ length: retries }, (_, nth) => answerWaitMs(retry, nth));
  const laterMs = Math.max(
    timeoutMs,
    waitsMs.reduce((sum, waitMs) => sum + waitMs, 0),
  );
  let sinceMs: number | null = null;
  let isKnown = false;
  return {
    /** Something is asked; from then on silence counts. */
    ask: (): void => {
      sinceMs ??= clock.nowMs();
    },
    hear: (): void => {
      sinceMs = null;
      isKnown = true;
    },
    /** How much longer nothing may come; 0 once it is too long. */
    leftMs: (): number =>
      sinceMs === null
        ? Number.POSITIVE_INFINITY
        : Math.max(0, sinceMs + (isKnown ? laterMs : firstMs) - clock.nowMs()),
    /** Whether the desk has never answered. */
    isUnknown: (): boolean => !isKnown,
  };
};
