import { randomInt } from 'node:crypto';
import type { Clock } from '../../live/session/clock.js';
import type { Desk } from '../../model/desk.js';
import type { Outcome } from '../../model/problem.js';
import type { OscTransport } from '../../model/target.js';
import { makeOscCodec, messagesIn } from '../../osc/codec.js';
import type { OscMessage } from '../../osc/message.js';
import type { StandinOutputs } from '../../standin/address-map.js';
import type { Counts, StandinEvent } from '../../standin/events.js';
import type { MessageDelivery } from '../../standin/faults/fault.js';
import { makeAskedFaults } from '../../standin/faults/registry.js';
import { randomStreams } from '../../standin/random.js';
import type { StandinState } from '../../standin/snapshot.js';
import { makeStandin } from '../../standin/standin.js';
import { ok } from '../../units/result.js';
import { systemClock } from '../network/clock.js';
import { serve } from '../network/serve.js';

/** A seed nobody chose, short enough to type again. */
export const anySeed = (): number => randomInt(1, 1_000_000);

/** More than ever wait at a rehearsal; beyond, the next ones go at once rather than fill the memory. */
const mostWaiting = 20_000;

/** Acts that are due later. */
export interface Queue {
  /** At once where there is nothing to wait for, so that what is not held back keeps its order. */
  after(delayMs: number, act: () => void): void;
  /** Nothing is done any more. */
  close(): void;
}

export const makeQueue = (clock: Clock): Queue => {
  const waiting = new Set<AbortController>();
  let isClosed = false;
  return {
    after: (delayMs, act) => {
      if (isClosed) return;
      if (delayMs <= 0 || waiting.size >= mostWaiting) {
        act();
        return;
      }
      const wait = new AbortController();
      waiting.add(wait);
      void clock.wait(delayMs, wait.signal).then(() => {
        waiting.delete(wait);
        if (!isClosed) act();
      });
    },
    close: () => {
      isClosed = true;
      for (const wait of waiting) wait.abort();
    },
  };
};

export interface StartStandinOptions {
  readonly desk: Desk;
  readonly kind: OscTransport;
  /** 0 for any that is free. */
  readonly port: number;
  /** The address of this computer it listens at: `127.0.0.1` reaches no further than this computer. */
  readonly bind: string;
  /** As on the command line: `loss=10%`. */
  readonly faults?: readonly string[];
  /** A whole number: the same one gives the same faults to the same messages, and the same scattered state. */
  readonly seed?: number;
  readonly outputs?: StandinOutputs;
  /** The state to begin with, as `snapshot` gives it. */
  readonly state?: unknown;
  /** Begins with an arbitrary state, told by the seed. */
  readonly scatter?: boolean;
  readonly onEvent?: (event: StandinEvent) => void;
  readonly clock?: Clock;
}

export interface RunningStandin {
  readonly port: number;
  readonly bind: string;
  snapshot(): StandinState;
  counts(): Counts;
  /** Takes no more, answers no more, lets go of the socket. Safe to call twice. */
  close(): Promise<void>;
}

/**
 * Lets a desk stand in on a socket. Problems: a target without OSC, a fault nobody knows, a state of another desk,
 * a socket that cannot be had.
 */
export const startStandin = async (options: StartStandinOptions): Promise<Outcome<RunningStandin>> => {
  const { desk, kind, port, bind, faults = [], seed = 0, outputs, state, onEvent } = options;
  const nextStream = randomStreams(seed);
  const scattering = nextStream();
  const made = makeStandin(desk, {
    ...(outputs ? { outputs } : {}),
    ...(state === undefined ? {} : { state }),
    ...(options.scatter ? { scatter: scattering } : {}),
  });
  if (!made.ok) return made;
  const standin = made.value;
  if (onEvent) standin.onEvent(onEvent);
  const asked = makeAskedFaults(faults, nextStream, standin);
  if (!asked.ok) return asked;
  const { applyFaults } = asked.value;
  const codec = makeOscCodec();
  const served = await serve({ kind, port, bind });
  if (!served.ok) return served;
  const server = served.value;
  const queue = makeQueue(options.clock ?? systemClock);

  const send = (message: OscMessage, reply: (packet: Uint8Array) => void): void => {
    const encoded = codec.encode(message);
    if (!encoded.ok) throw new RangeError(`an answer cannot be sent: ${encoded.error}`);
    reply(encoded.value);
  };
  /** Lets a delivery pass a place where faults meet it; each of what comes of it goes on in its own time. */
  const pass = (
    place: 'network' | 'desk',
    delivery: MessageDelivery,
    goOn: (delivery: MessageDelivery) => void,
  ): void => {
    for (const each of applyFaults(place, delivery, standin.record)) {
      queue.after(each.delayMs, () => goOn({ ...each, delayMs: 0 }));
    }
  };

  server.onPacket((bytes, reply) => {
    const packet = codec.decode(bytes);
    if (!packet.ok) {
      standin.record({ event: 'malformed', why: packet.error });
      return;
    }
    const answered = (answer: MessageDelivery): void =>
      pass('desk', answer, (left) => pass('network', left, ({ message }) => send(message, reply)));
    const arrived = (delivery: MessageDelivery): void =>
      pass('desk', delivery, ({ message, by }) => {
        const answer = standin.applyMessage(message, by);
        if (answer) answered({ direction: 'out', message: answer, delayMs: 0, by });
      });
    for (const message of messagesIn(packet.value)) {
      pass('network', { direction: 'in', message, delayMs: 0, by: 'sender' }, arrived);
    }
  });
  server.onFault((why) => standin.record({ event: 'network', why }));
  return ok({
    port: server.port,
    bind: server.bind,
    snapshot: standin.snapshot,
    counts: standin.counts,
    close: async () => {
      queue.close();
      await server.close();
    },
  });
};
