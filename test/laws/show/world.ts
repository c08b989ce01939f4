import { writeJson } from '../../../src/documents/write-json.js';
import type { MixPlan } from '../../../src/live/plan/plan.js';
import { planPush } from '../../../src/live/plan/plan-push.js';
import { planRestore } from '../../../src/live/plan/plan-restore.js';
import { openSession } from '../../../src/live/session/open-session.js';
import type { Transport } from '../../../src/live/session/transport.js';
import { type WriteDone, writeMixes } from '../../../src/live/write/write-mixes.js';
import type { Desk } from '../../../src/model/desk.js';
import type { Journal } from '../../../src/model/journal.js';
import type { Outcome } from '../../../src/model/problem.js';
import type { Recipe } from '../../../src/model/recipe.js';
import { isWhole, readKept, sealed } from '../../../src/node/journals/kept-journal.js';
import { isBundle } from '../../../src/osc/codec.js';
import type { OscMessage } from '../../../src/osc/message.js';
import { randomStreams } from '../../../src/standin/random.js';
import { makeStandin, type Standin } from '../../../src/standin/standin.js';
import { ok } from '../../../src/units/result.js';
import { makeRememberingCodec } from '../../live/remembering-codec.js';
import { virtualTime } from '../../live/virtual-time.js';

/** What goes wrong in one run, and when: counted in messages that the program sends, from 1; null for never. */
export interface Mishaps {
  readonly seed: number;
  readonly lossPercent: number;
  readonly duplicatePercent: number;
  /** Ctrl-C, or a terminal that is closed. */
  readonly interruptAt: number | null;
  /** Ctrl-C again, so many messages later. */
  readonly insistAfter: number | null;
  /** The process is killed: what it sends then is the last of it. */
  readonly killAt: number | null;
  /**
   * Somebody turns a dial of an output that is written to, right after so many writes of the program have arrived. What is
   * turned between a reading and the end of it can be told by nobody.
   */
  readonly handAt: number | null;
  /** The desk's outputs go by other names from so many writes on. */
  readonly renameAt: number | null;
  /** From then on the desk takes and answers nothing, until it is switched on again. */
  readonly silentAt: number | null;
}

/** One run of a push or a restore. */
export interface RunDone {
  readonly done: WriteDone | null;
  readonly journal: Journal | null;
  /** Addresses the program wrote to on the desk, in order. */
  readonly written: readonly string[];
  /** Those of them that it sent once the desk had been renamed. */
  readonly writtenAfterRename: readonly string[];
  /** Whether a journal was stored before the first of them left. */
  readonly keptFirst: boolean;
}

/** A desk, and a program that pushes to it and restores: in memory, in virtual time. */
export interface World {
  readonly desk: Desk;
  readonly standin: Standin;
  /** As files hold them. */
  readonly journals: string[];
  hands: number;
  run(what: Recipe | string, mishaps: Mishaps): Promise<RunDone>;
  /** Somebody turns a dial. */
  hand(seed: number): void;
}

const codec = makeRememberingCodec();

const valueFrom = <Value>(outcome: Outcome<Value>): Value => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.error));
  return outcome.value;
};

/** Longer than any packet is on its way. */
const longestTripMs = 90;

export const makeWorld = (
  desk: Desk,
  seed: number,
  outputs: readonly number[],
  rightNames: ReadonlyMap<number, string>,
): World => {
  const names = new Map(rightNames);
  const rename = (nameOf: (output: number, name: string) => string): void => {
    for (const [output, name] of rightNames) names.set(output, nameOf(output, name));
  };
  const standin = valueFrom(
    makeStandin(desk, {
      scatter: randomStreams(seed)(),
      outputs: { names },
    }),
  );
  const journals: string[] = [];
  const dials = standin.addresses.filter((address) => {
    const output = Number(/^\/mix\/(\d+)\/filter\//.exec(address)?.[1]);
    return outputs.includes(output);
  });

  const world: World = {
    desk,
    standin,
    journals,
    hands: 0,
    hand: (handSeed) => {
      const random = randomStreams(handSeed)();
      const address = dials[Math.floor(random() * dials.length)] ?? '';
      const message = standin.makeMeddleMessage(address, random);
      if (!message) return;
      world.hands++;
      standin.applyMessage(message, 'someone-else');
    },
    run: async (what, mishaps) => {
      const time = virtualTime();
      const random = randomStreams(mishaps.seed)();
      const [soft, hard] = [new AbortController(), new AbortController()];
      const written: string[] = [];
      const writtenAfterRename: string[] = [];
      rename((_, name) => name);
      let isRenamed = false;
      let stored: Journal | null = null;
      let keptFirst = true;
      let sent = 0;
      let isDead = false;
      let kill: () => void = () => undefined;
      const killed = new Promise<null>((resolve) => {
        kill = () => {
          isDead = true;
          resolve(null);
        };
      });
      let hear: (packet: Uint8Array) => void = () => undefined;
      const tripMs = () => 1 + random() * longestTripMs;
      const isLost = () => random() * 100 < mishaps.lossPercent;
      const isSilent = () => mishaps.silentAt !== null && sent >= mishaps.silentAt;

      const answer = (message: OscMessage | null): void => {
        if (!message || isLost()) return;
        const bytes = valueFrom(codec.encode(message) as never) as unknown as Uint8Array;
        time.at(tripMs(), () => {
          if (!isDead) hear(bytes);
        });
      };
      const arrive = (message: OscMessage): void => {
        if (isSilent()) return;
        const isWrite = !standin.isQuestion(message);
        if (isWrite) written.push(message.address);
        answer(standin.applyMessage(message, 'sender'));
        if (isWrite && written.length === mishaps.handAt) world.hand(mishaps.seed + 1);
        if (isWrite && written.length === mishaps.renameAt) {
          isRenamed = true;
          rename(() => 'Somebody else');
        }
      };
      const transport: Transport = {
        kind: 'udp',
        destination: 'a desk in memory',
        send: async (packet) => {
          if (isDead) return new Promise(() => undefined);
          sent++;
          if (sent === mishaps.interruptAt) soft.abort();
          if (mishaps.interruptAt !== null && mishaps.insistAfter !== null) {
            if (sent === mishaps.interruptAt + mishaps.insistAfter) hard.abort();
          }
          const decoded = codec.decode(packet);
          if (!decoded.ok || isBundle(decoded.value)) throw new Error('a session sends single messages');
          const message = decoded.value;
          if (!standin.isQuestion(message)) {
            keptFirst &&= stored !== null;
            if (isRenamed) writtenAfterRename.push(message.address);
          }
          if (!isLost()) time.at(tripMs(), () => arrive(message));
          if (random() * 100 < mishaps.duplicatePercent) time.at(tripMs(), () => arrive(message));
          if (sent === mishaps.killAt) {
            kill();
            return new Promise(() => undefined);
          }
          return ok(undefined);
        },
        onPacket: (listener) => {
          hear = listener;
        },
        onFault: () => undefined,
        close: async () => undefined,
      };
      const session = openSession({
        transport,
        codec,
        clock: time.clock,
        // Nothing here can be overrun; a rate would only make time pass.
        ratePerSecond: 1e6,
        retry: { timeoutMs: 250, retries: 7 },
      });
      const journal = typeof what === 'string' ? valueFrom(readKept(what, { source: 'a journal' })) : null;
      const plans: readonly MixPlan[] = valueFrom(
        journal
          ? planRestore(journal, desk, isWhole(journal) ? 'as-written' : 'changed')
          : planPush(what as Recipe, desk),
      );
      const work = writeMixes({
        plans,
        desk,
        session,
        clock: time.clock,
        signal: soft.signal,
        hardSignal: hard.signal,
        facts: {
          purpose: journal ? 'restore' : 'push',
          title: 'Tin Lighthouse',
          desk: { host: '127.0.0.1', port: 1, transport: 'udp' },
        },
        acceptNames: false,
        keeper: {
          place: 'in memory',
          store: async (journal) => {
            if (isDead) return new Promise(() => undefined);
            stored = journal;
            return ok(undefined);
          },
        },
        onReading: () => undefined,
        agree: async () => true,
        onMix: () => undefined,
      });
      const done = await time.run(Promise.race([work, killed]));
      // What was on its way arrives, whatever became of who sent it.
      await time.run(time.clock.wait(2 * longestTripMs));
      if (stored) journals.push(writeJson(sealed(stored)));
      return { done: done && valueFrom(done), journal: stored, written, writtenAfterRename, keptFirst };
    },
  };
  return world;
};
