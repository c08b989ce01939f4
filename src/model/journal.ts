import type { OscEncoding, OscParameter, OscTransport, Target } from './target.js';

/** What a desk answered, as it came: a number for `f`, `d`, `i`, a text for `s` and, in digits, for `h`. */
export interface FoundArgument {
  readonly type: OscEncoding['type'];
  readonly number?: number;
  readonly text?: string;
}

/** One parameter as it was found. */
export interface FoundValue {
  readonly parameter: OscParameter;
  readonly address: string;
  readonly argument: FoundArgument;
  /** What the desk shows for it; null where the target does not know such a value. */
  readonly display: string | null;
}

/** One slot of one output as it was found. */
export interface JournalSlot {
  readonly output: number;
  readonly slot: string;
  readonly found: readonly FoundValue[];
}

/** One mix as it was found: its outputs, counted from 1, and the slots that were about to be written. */
export interface JournalMix {
  readonly name: string;
  readonly outputs: readonly number[];
  /** What its outputs were called on the desk; those that told no name are left out. */
  readonly names?: readonly { readonly output: number; readonly name: string }[];
  readonly slots: readonly JournalSlot[];
}

/**
 * How a mix was left. `applied`: every value read back as set. `unchanged`: it stood so already, and nothing was
 * written. `untouched`: nothing was written. `put-back`: something did not take, or it was interrupted, and it reads
 * as it was found. `differs`: something reads otherwise than set. `unknown`: written to, and no answer since.
 * `sent`: written to a desk that cannot be read.
 */
export type MixState = 'applied' | 'unchanged' | 'untouched' | 'put-back' | 'differs' | 'unknown' | 'sent';

/** How a push or a restore ended. */
export interface JournalOutcome {
  /** ISO 8601, UTC. */
  readonly endedAt: string;
  readonly result: 'done' | 'falls-short' | 'interrupted' | 'desk-lost';
  readonly mixes: readonly { readonly name: string; readonly state: MixState }[];
}

/** What stood on a desk before it was written to: everything needed to put it back, the target included. */
export interface Journal {
  readonly format: 'bandwright-journal/1';
  /** What was about to write: `learn` turned the knobs of one output to find out their steps, and put them back itself. */
  readonly purpose: 'push' | 'restore' | 'learn';
  /** ISO 8601, UTC. */
  readonly startedAt: string;
  /** The rig's title. */
  readonly title: string;
  /**
   * Of a restore: `startedAt` of the journal it puts back. Left out where only some of that one's mixes were to be put
   * back.
   */
  readonly restores?: string;
  readonly desk: { readonly transport: OscTransport; readonly host: string; readonly port: number };
  readonly target: Target;
  readonly mixes: readonly JournalMix[];
  /** Null until it ended; one that never does was killed half-way. */
  readonly outcome: JournalOutcome | null;
  /** SHA-256 of all the rest as canonical JSON (RFC 8785), in hexadecimal digits: shows whether it is as it was written. */
  readonly digest?: string;
}
