import type { OscParameter } from '../model/target.js';
import type { OscArgument } from '../osc/message.js';

/** Whose message it was: a sender's over the network, or somebody's at the desk itself. */
export type Author = 'sender' | 'someone-else';

/** One dial, in the words people have for it. */
export interface DialPlace {
  readonly output: number;
  /** Every output whose filters these are. */
  readonly outputs: readonly number[];
  readonly slot: string;
  readonly parameter: OscParameter;
}

/** A message that changed something, or set again what stood. */
export interface WriteEvent extends DialPlace {
  readonly event: 'write';
  readonly by: Author;
  readonly address: string;
  readonly argument: OscArgument;
  /** What it became: the step, of how many, and what the desk shows. */
  readonly index: number;
  readonly of: number;
  readonly display: string;
  /** Knobs that a new type brought to another reading, since its grid is another one. */
  readonly moved: readonly { readonly parameter: OscParameter; readonly display: string }[];
}

/** A value that was asked for and told. */
export interface ReadEvent {
  readonly event: 'read';
  /** Of what was asked for, wherever it was asked. */
  readonly address: string;
  readonly answer: OscArgument;
}

/** What is right in form, and not for this desk: nothing changed. `why` is the end of a sentence. */
export interface RefusedEvent {
  readonly event: 'refused';
  readonly by: Author;
  readonly address: string;
  readonly args: readonly OscArgument[];
  readonly why: string;
}

/** What leads to nothing on this desk. */
export interface IgnoredEvent {
  readonly event: 'ignored';
  readonly address: string;
  readonly why: string;
}

/** Bytes that are no OSC packet. `why` is a sentence. */
export interface MalformedEvent {
  readonly event: 'malformed';
  readonly why: string;
}

/** What a connection did, or the network would not do. `why` is a sentence. */
export interface NetworkEvent {
  readonly event: 'network';
  readonly why: string;
}

/** A fault that was asked for was at work on a message. */
export interface FaultEvent {
  readonly event: 'fault';
  readonly fault: string;
  readonly direction: 'in' | 'out';
  readonly address: string;
  readonly effect: 'dropped' | 'held-back' | 'changed' | 'added-to';
}

/** Everything that happens to a stand-in. */
export type StandinEvent =
  | WriteEvent
  | ReadEvent
  | RefusedEvent
  | IgnoredEvent
  | MalformedEvent
  | NetworkEvent
  | FaultEvent;

/** How often each kind of event was. */
export type Counts = Readonly<Record<StandinEvent['event'], number>>;

/** Before anything has happened. */
export const noCounts: Counts = {
  write: 0,
  read: 0,
  refused: 0,
  ignored: 0,
  malformed: 0,
  network: 0,
  fault: 0,
};
