import type { Problem } from '../../model/problem.js';
import type { Question } from '../../osc/asking.js';
import type { OscArgument, OscMessage } from '../../osc/message.js';

/** One thing to be done at one address: read it, or write to it and read back whether it took. */
export interface Job {
  readonly address: string;
  /**
   * What asks for it. Null where the desk cannot be asked: then the job is silent, and nothing is sent for it, not even
   * what it would write.
   */
  readonly question: Question | null;
  /** What to write first; null where it is only read. */
  readonly write: OscMessage | null;
  /** What is written before all that: each time, or only where it is sent again. Nothing asks whether it took. */
  readonly first?: { readonly message: OscMessage; readonly isAlways: boolean };
  /** Null where what came back is as it should be; else the end of a sentence that says why not. */
  judge(read: OscArgument): string | null;
}

/**
 * How a job ended. `held`: it reads as it should. `otherwise`: it reads otherwise, however often it was tried.
 * `silent`: nothing came back. `stopped`: it was not seen through, since it was interrupted or the desk is lost;
 * `wasSent` tells whether what it writes had left by then.
 */
export type JobResult =
  | { readonly kind: 'held'; readonly read: OscArgument }
  | { readonly kind: 'otherwise'; readonly read: OscArgument | null; readonly why: string }
  | { readonly kind: 'silent' }
  | { readonly kind: 'stopped'; readonly wasSent: boolean };

/** A conversation with a desk: everything that is said to it and heard from it goes through here. */
export interface Session {
  /** Does jobs, each until it holds or its retries are used up, sending again what was lost. One result each, in order. */
  exchange(jobs: readonly Job[], signal: AbortSignal): Promise<readonly JobResult[]>;
  /** Sends without asking back, in order; tells how many were sent before it was stopped. */
  tell(messages: readonly OscMessage[], signal: AbortSignal): Promise<number>;
  /** Why nothing more is sent: the desk fell silent or the connection ended. Null while it answers. */
  lost(): Problem | null;
  /** That the port refuses, and has since something last came; null where it does not. */
  refusal(): Problem | null;
  /** Every address written to so far, with the last argument sent. */
  written(): ReadonlyMap<string, OscArgument>;
  /** Messages sent and packets taken in so far; `strange` packets were no OSC, or nothing that was asked for. */
  counts(): { readonly sent: number; readonly heard: number; readonly strange: number };
}

/** How long an answer is waited for, and how often it is asked for again. */
export interface RetryPolicy {
  /** How long the first answer may take; each retry waits half as long again, up to a second or to this if it is longer. */
  readonly timeoutMs: number;
  /** How often the same is sent once more where no answer came, or while another value comes back. */
  readonly retries: number;
}

export const usualRetryPolicy: RetryPolicy = { timeoutMs: 250, retries: 7 };

/** Messages a second unless told otherwise: what a small desk's network side copes with. Common practice, no source. */
export const usualRatePerSecond = 200;

/** A session with a desk that cannot be read: what was sent counts as done, and nothing is known to hold. */
export const blindSession = (session: Session): Session => ({
  ...session,
  exchange: async (jobs, signal) => {
    const messages = jobs.flatMap(({ write }) => (write ? [write] : []));
    const sent = await session.tell(messages, signal);
    let at = 0;
    return jobs.map(({ write }): JobResult => {
      const [argument] = write?.args ?? [];
      return argument && at++ < sent ? { kind: 'held', read: argument } : { kind: 'stopped', wasSent: false };
    });
  },
});
