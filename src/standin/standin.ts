import type { Desk } from '../model/desk.js';
import type { Outcome } from '../model/problem.js';
import { questionKey } from '../osc/asking.js';
import type { OscMessage } from '../osc/message.js';
import { ok } from '../units/result.js';
import { makeAddressMap, type StandinOutputs } from './address-map.js';
import { applyMessage, makeMeddleMessage } from './apply-message.js';
import { type Author, type Counts, noCounts, type StandinEvent } from './events.js';
import { initialState, scatteredState } from './slot-state.js';
import { readState, type StandinState, snapshotOf } from './snapshot.js';

/** How a stand-in is set up before the first message. */
export interface StandinSetup {
  readonly outputs?: StandinOutputs;
  /** The state to start from, as a snapshot tells it. */
  readonly state?: unknown;
  /** Starts from an arbitrary state instead; gives numbers within [0, 1). */
  readonly scatter?: () => number;
}

/** A simulated desk, without its sockets. It keeps no record of what was: listeners do. */
export interface Standin {
  /** Every address it can be set by, and those of its outputs' names. */
  readonly addresses: readonly string[];
  /** Whether a message asks for a value, and sets none. */
  isQuestion(message: OscMessage): boolean;
  /** Takes one message; the answer, if there is one. */
  applyMessage(message: OscMessage, by: Author): OscMessage | null;
  /**
   * A message that would turn a dial to another setting than the one it has after `first` was taken, which it is
   * not yet. Null where there is nothing to turn.
   */
  makeMeddleMessage(address: string, random: () => number, first?: OscMessage): OscMessage | null;
  /** Counts an event that happened outside, such as a malformed packet, and tells the listeners. */
  record(event: StandinEvent): void;
  onEvent(listener: (event: StandinEvent) => void): void;
  counts(): Counts;
  snapshot(): StandinState;
}

/**
 * Makes a stand-in from any desk that OSC reaches. Problems: as `makeAddressMap`, and a state that is not of this
 * desk.
 */
export const makeStandin = (desk: Desk, options: StandinSetup = {}): Outcome<Standin> => {
  const made = makeAddressMap(desk, options.outputs);
  if (!made.ok) return made;
  const map = made.value;
  const beginning = options.scatter ? scatteredState(map, options.scatter) : initialState(map);
  const started = options.state === undefined ? ok(beginning) : readState(options.state, map);
  if (!started.ok) return started;

  let state = started.value;
  let counts = noCounts;
  const listeners: ((event: StandinEvent) => void)[] = [];
  const record = (event: StandinEvent): void => {
    counts = { ...counts, [event.event]: counts[event.event] + 1 };
    for (const listener of listeners) listener(event);
  };
  return ok({
    addresses: [...map.places.keys()],
    isQuestion: (message) => message.args.length === 0 || map.questions.has(questionKey(message)),
    applyMessage: (message, by) => {
      const applied = applyMessage(map, state, message, by);
      state = applied.state;
      record(applied.event);
      return applied.answer;
    },
    makeMeddleMessage: (address, random, first) => {
      const after = first ? applyMessage(map, state, first, 'sender').state : state;
      return makeMeddleMessage(map, after, address, random);
    },
    record,
    onEvent: (listener) => {
      listeners.push(listener);
    },
    counts: () => counts,
    snapshot: () => snapshotOf(map, state),
  });
};
