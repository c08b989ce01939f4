import { getEventListeners } from 'node:events';
import { describe, expect, it } from 'vitest';
import { openSession } from '../../../src/live/session/open-session.js';
import { usualRetryPolicy } from '../../../src/live/session/session.js';
import type { Transport } from '../../../src/live/session/transport.js';
import { watchRounds } from '../../../src/live/watch/watch-rounds.js';
import { mostWatchRate, usualWatchMs, type WatchEvent } from '../../../src/live/watch/watch-state.js';
import { isBundle } from '../../../src/osc/codec.js';
import type { OscMessage } from '../../../src/osc/message.js';
import { randomStreams } from '../../../src/standin/random.js';
import { makeStandin } from '../../../src/standin/standin.js';
import { ok } from '../../../src/units/result.js';
import { shippedDesk } from '../recipe-on.js';
import { makeRememberingCodec } from '../remembering-codec.js';
import { virtualTime } from '../virtual-time.js';
import { watchTaskOn } from './watched-desk.js';

/*
 * Whole watches over the real session, in virtual time, against the stand-in's desk behind a network that loses packets.
 * What is told is held against what was done to the desk and when.
 */

const codec = makeRememberingCodec();
const tripMs = 5;
const minuteMs = 60_000;

interface Setting {
  readonly target?: string;
  readonly lossShare?: number;
  readonly seed?: number;
  readonly forMs: number;
}

/** A watch of a desk that stands as set, and hands to turn its knobs with. */
const watching = async ({ target = 'log-179', lossShare = 0, seed = 1, forMs }: Setting) => {
  const desk = await shippedDesk(target);
  const task = watchTaskOn(desk, usualWatchMs);
  const made = makeStandin(desk);
  if (!made.ok) throw new Error(JSON.stringify(made.error));
  const standin = made.value;
  const slots = task.mixes.flatMap(({ plan }) => plan.slots);
  const asSet: ReadonlyMap<string, OscMessage> = new Map(
    slots.flatMap(({ parameters, wanted }) =>
      parameters.flatMap(({ name, address }) => {
        const value = wanted.get(name);
        return value ? [[address, { address, args: [value.argument] }] as const] : [];
      }),
    ),
  );
  // The type first: with another type the others may be others.
  for (const type of [true, false])
    for (const message of asSet.values())
      if (message.address.endsWith('/type') === type) standin.applyMessage(message, 'someone-else');

  const time = virtualTime();
  const nextStream = randomStreams(seed);
  const [loss, hands] = [nextStream(), nextStream()];
  const sent: { readonly atMs: number; readonly message: OscMessage }[] = [];
  let isOff = false;
  let lost = 0;
  const isLost = (): boolean => {
    const is = loss() < lossShare;
    if (is) lost++;
    return is;
  };
  const open = (): Transport => {
    let hear: (packet: Uint8Array) => void = () => undefined;
    return {
      kind: 'udp',
      destination: 'a desk by UDP',
      send: async (packet) => {
        const decoded = codec.decode(packet);
        if (!decoded.ok || isBundle(decoded.value)) throw new Error('a session sends single messages');
        const message = decoded.value;
        sent.push({ atMs: time.clock.nowMs(), message });
        if (isOff || isLost()) return ok(undefined);
        const answer = standin.applyMessage(message, 'sender');
        const bytes = answer && !isLost() ? codec.encode(answer) : null;
        if (bytes?.ok) time.at(2 * tripMs, () => hear(bytes.value));
        return ok(undefined);
      },
      onPacket: (listener) => {
        hear = listener;
      },
      onFault: () => undefined,
      close: async () => undefined,
    };
  };

  const events: { readonly atMs: number; readonly event: WatchEvent }[] = [];
  const roundsMs: number[] = [];
  const ending = new AbortController();
  const listenersAtHours: number[] = [];
  const summary = async () => {
    for (let hourMs = 60 * minuteMs; hourMs <= forMs; hourMs += 60 * minuteMs)
      time.at(hourMs - 1, () => listenersAtHours.push(getEventListeners(ending.signal, 'abort').length));
    time.at(forMs, () => ending.abort());
    const done = await time.run(
      watchRounds({
        task,
        clock: time.clock,
        signal: ending.signal,
        converse: async (work) => {
          const session = openSession({
            transport: open(),
            codec,
            clock: time.clock,
            ratePerSecond: mostWatchRate,
            retry: usualRetryPolicy,
          });
          const why = await work(session);
          writtenBySessions += session.written().size;
          return ok(why);
        },
        onFirst: () => undefined,
        onEvent: (event) => events.push({ atMs: time.clock.nowMs(), event }),
        onRound: () => roundsMs.push(time.clock.nowMs()),
      }),
    );
    if (!done.ok) throw new Error(JSON.stringify(done.error));
    return done.value;
  };
  let writtenBySessions = 0;
  return {
    task,
    standin,
    asSet,
    hands,
    at: time.at,
    sent,
    events,
    roundsMs,
    /** How many wait for the signal that ends it, at the end of each hour. */
    listenersAtHours,
    summary,
    switchDesk: (on: boolean): void => {
      isOff = !on;
    },
    counts: () => ({ lost, written: writtenBySessions, desk: standin.counts() }),
  };
};

type Watching = Awaited<ReturnType<typeof watching>>;

/** A knob that somebody turns, and turns back. */
interface Turn {
  readonly mix: string;
  readonly address: string;
  readonly atMs: number;
  readonly backMs: number;
}

/** The numbers of two rounds from when something was done: what was done in a round is told by the end of the next. */
const twoRoundsMs = 2 * usualWatchMs;

/** Lets hands turn knobs of one mix at a time, at random, for longer than two rounds each, until some time. */
const turnKnobs = ({ task, standin, asSet, hands, at }: Watching, untilMs: number): readonly Turn[] => {
  const turns: Turn[] = [];
  let freeMs = minuteMs;
  for (;;) {
    const atMs = freeMs + hands() * 4 * minuteMs;
    const backMs = atMs + 2.5 * usualWatchMs + hands() * 5 * minuteMs;
    // As long again until the next one, so that what is told of one is told apart.
    freeMs = backMs + 2.5 * usualWatchMs;
    if (freeMs > untilMs) return turns;
    const { plan } = task.mixes[Math.floor(hands() * task.mixes.length)] ?? {};
    const addresses = (plan?.slots ?? []).flatMap(({ parameters, wanted }) =>
      parameters.flatMap(({ name, address }) => (wanted.has(name) && name !== 'type' ? [address] : [])),
    );
    const address = addresses[Math.floor(hands() * addresses.length)];
    const back = asSet.get(address ?? '');
    const away = address === undefined ? null : standin.makeMeddleMessage(address, hands);
    if (!plan || address === undefined || !back || !away) throw new Error('there is no knob to turn');
    at(atMs, () => standin.applyMessage(away, 'someone-else'));
    at(backMs, () => standin.applyMessage(back, 'someone-else'));
    turns.push({ mix: plan.name, address, atMs, backMs });
  }
};

describe('three hours of a show, one packet in ten lost each way', () => {
  it.each([1, 2])(
    'with hands at the desk: all they do is told in two rounds, once, and nothing else (seed %i)',
    async (seed) => {
      const forMs = 180 * minuteMs;
      const watch = await watching({ lossShare: 0.1, seed, forMs });
      const turns = turnKnobs(watch, forMs - minuteMs);
      expect(turns.length).toBeGreaterThan(15);
      const summary = await watch.summary();

      const told = watch.events.flatMap(({ atMs, event }) => ('mix' in event ? [{ atMs, event }] : []));
      expect(
        told.map(({ event }) => [event.event, event.mix, event.values.map(({ address }) => address)]),
      ).toEqual(
        turns.flatMap(({ mix, address }) => [
          ['changed', mix, [address]],
          ['as-set', mix, [address]],
        ]),
      );
      for (const [index, { atMs, backMs }] of turns.entries()) {
        const [away, back] = [told[2 * index]?.atMs ?? 0, told[2 * index + 1]?.atMs ?? 0];
        expect(away - atMs).toBeGreaterThan(0);
        expect(away - atMs).toBeLessThan(twoRoundsMs);
        expect(back - backMs).toBeGreaterThan(0);
        expect(back - backMs).toBeLessThan(twoRoundsMs);
      }
      expect(watch.events.filter(({ event }) => !('mix' in event)).map(({ event }) => event.event)).toEqual([
        'first-round',
      ]);
      expect([summary.result, summary.silences]).toEqual(['falls-short', 0]);
      // A thousand rounds and more, and packets were lost indeed: about 19 % of the questions went unanswered.
      expect(watch.roundsMs.length).toBeGreaterThan(1000);
      expect(watch.counts().lost).toBeGreaterThan(0.15 * watch.sent.length);
      // Otherwise for as long as the hands had it, to within a round a turn.
      const otherwiseMs = summary.mixes.reduce((sum, mix) => sum + mix.otherwiseMs, 0);
      const turnedMs = turns.reduce((sum, { atMs, backMs }) => sum + backMs - atMs, 0);
      expect(Math.abs(otherwiseMs - turnedMs)).toBeLessThan(turns.length * usualWatchMs * 1.2);
    },
  );

  it('with nobody there: not a word', async () => {
    const watch = await watching({ lossShare: 0.1, seed: 3, forMs: 180 * minuteMs });
    const summary = await watch.summary();
    expect(watch.events.map(({ event }) => event.event)).toEqual(['first-round']);
    expect(summary.result).toBe('done');
    expect(watch.listenersAtHours).toEqual([1, 2, 3].map(() => watch.listenersAtHours[0]));
    expect(summary.mixes.map(({ changes, unconfirmed }) => [changes, unconfirmed])).toEqual([
      [0, 0],
      [0, 0],
    ]);
  });
});

/** Desks that are asked in every way there is: by the address itself, by others, and by arguments that are no values. */
const askedOtherwise = ['digits-3', 'log-179', 'rate-96', 'two-legs', 'floats', 'octave-6'] as const;

describe('a watch', () => {
  it.each(askedOtherwise)('sends %s questions and nothing else, changed or silent', async (target) => {
    const watch = await watching({ target, lossShare: 0.05, forMs: 10 * minuteMs });
    turnKnobs(watch, 5 * minuteMs);
    watch.at(6 * minuteMs, () => watch.switchDesk(false));
    watch.at(8 * minuteMs, () => watch.switchDesk(true));
    const before = JSON.stringify(watch.standin.snapshot());
    await watch.summary();
    expect(watch.sent.length).toBeGreaterThan(500);
    // What these targets say questions carry: no argument, the text "?", or nil.
    const question =
      { floats: [{ type: 's', value: '?' }], 'octave-6': [{ type: 'N' }] }[target as string] ?? [];
    const others = watch.sent.filter(
      ({ message }) => JSON.stringify(message.args) !== JSON.stringify(question),
    );
    expect(others).toEqual([]);
    expect(watch.counts().written).toBe(0);
    const { refused, ignored, malformed } = watch.counts().desk;
    expect([refused, ignored, malformed]).toEqual([0, 0, 0]);
    expect(JSON.stringify(watch.standin.snapshot())).toBe(before);
  });

  it('asks every value once in ten seconds, and never more than fifty messages a second', async () => {
    const watch = await watching({ forMs: 10 * minuteMs });
    await watch.summary();
    const times = new Map<string, number[]>();
    for (const { atMs, message } of watch.sent)
      times.set(message.address, [...(times.get(message.address) ?? []), atMs]);
    // Nothing is lost here: the names once, every value in each of the sixty rounds.
    const asked = [...times].filter(([address]) => !address.includes('name'));
    expect(asked.length).toBeGreaterThan(20);
    for (const [, [, ...later]] of asked) {
      expect(later.length).toBeGreaterThanOrEqual(58);
      const gaps = later.slice(1).map((atMs, index) => atMs - (later[index] ?? 0));
      expect(Math.max(...gaps)).toBeLessThan(usualWatchMs + 1000);
      expect(Math.min(...gaps)).toBeGreaterThan(usualWatchMs - 1000);
    }
    for (const [index, { atMs }] of watch.sent.entries()) {
      // One more than fifty may lie in a second that begins just after one was sent late.
      const first = watch.sent[index - mostWatchRate - 1];
      if (first) expect(atMs - first.atMs).toBeGreaterThanOrEqual(1000);
    }
  });

  it('tells that the desk fell silent within ten seconds, once, and that it answers again', async () => {
    const watch = await watching({ lossShare: 0.1, forMs: 30 * minuteMs });
    const [offMs, onMs] = [600_000, 900_000];
    watch.at(offMs, () => watch.switchDesk(false));
    watch.at(onMs, () => watch.switchDesk(true));
    const summary = await watch.summary();
    const told = watch.events.map(({ event, atMs }) => [event.event, atMs] as const).slice(1);
    expect(told.map(([event]) => event)).toEqual(['silent', 'answering']);
    const [silentMs, answeringMs] = told.map(([, atMs]) => atMs);
    expect((silentMs ?? 0) - offMs).toBeLessThan(10_000);
    expect((answeringMs ?? 0) - onMs).toBeLessThan(10_000);
    expect(summary.result).toBe('done');
    for (const { stoodMs, notKnownMs } of summary.mixes) {
      expect(notKnownMs).toBeGreaterThan(onMs - offMs - 1000);
      expect(notKnownMs).toBeLessThan(onMs - offMs + 25_000);
      expect(stoodMs + notKnownMs).toBeCloseTo(summary.watchedMs, 0);
    }
    // A silent desk is left in peace: fewer messages than a watch of it would take.
    const meanwhile = watch.sent.filter(({ atMs }) => atMs > offMs + 20_000 && atMs < onMs);
    expect(meanwhile.length).toBeLessThan(((onMs - offMs) / 1000) * 8);
  });

  it('tells what was changed while the desk was silent', async () => {
    const watch = await watching({ forMs: 10 * minuteMs });
    const address = [...watch.asSet.keys()].find((each) => each.endsWith('/frequency')) ?? '';
    watch.at(100_000, () => watch.switchDesk(false));
    watch.at(150_000, () => {
      const away = watch.standin.makeMeddleMessage(address, watch.hands);
      if (away) watch.standin.applyMessage(away, 'someone-else');
    });
    watch.at(200_000, () => watch.switchDesk(true));
    const summary = await watch.summary();
    expect(watch.events.map(({ event }) => event.event)).toEqual([
      'first-round',
      'silent',
      'answering',
      'changed',
    ]);
    expect(summary.result).toBe('falls-short');
  });

  it('reports a desk that never answers as what kept the first reading', async () => {
    const watch = await watching({ forMs: minuteMs });
    watch.switchDesk(false);
    await expect(watch.summary()).rejects.toThrow('desk-silent');
    expect(watch.events).toEqual([]);
  });
});
