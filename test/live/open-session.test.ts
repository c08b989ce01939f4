import { describe, expect, it } from 'vitest';
import { openSession } from '../../src/live/session/open-session.js';
import type { Job, RetryPolicy } from '../../src/live/session/session.js';
import type { Transport, TransportFault } from '../../src/live/session/transport.js';
import { problem } from '../../src/model/problem.js';
import type { Question } from '../../src/osc/asking.js';
import { isBundle, makeOscCodec } from '../../src/osc/codec.js';
import type { OscArgument, OscMessage } from '../../src/osc/message.js';
import { ok } from '../../src/units/result.js';
import { virtualTime } from './virtual-time.js';

const codec = makeOscCodec();
const retry: RetryPolicy = { timeoutMs: 100, retries: 3 };
const never = new AbortController().signal;
const tripMs = 5;

/** What a desk makes of the nth message it is sent: the messages it answers with. */
type Desk = (message: OscMessage, nth: number) => readonly (OscMessage | Uint8Array)[];

/** A way of asking, as both ends of a session know it. */
interface Way {
  /** What asks for what stands at an address. */
  question(address: string): Question;
  /** The address that a message asks for; null for one that asks nothing. */
  asked(message: OscMessage): string | null;
}

const ways: Readonly<Record<string, Way>> = {
  'by the same address without arguments': {
    question: (address) => ({ message: { address, args: [] }, answerAddress: address }),
    asked: ({ address, args }) => (args.length === 0 ? address : null),
  },
  'by another address, and answered there': {
    question: (address) => ({
      message: { address: `${address}/now`, args: [] },
      answerAddress: `${address}/now`,
    }),
    asked: ({ address }) => /^(.+)\/now$/.exec(address)?.[1] ?? null,
  },
  'by another address, and answered where it is written': {
    question: (address) => ({ message: { address: `/ask${address}`, args: [] }, answerAddress: address }),
    asked: ({ address }) => /^\/ask(.+)$/.exec(address)?.[1] ?? null,
  },
  'by an argument': {
    question: (address) => ({
      message: { address, args: [{ type: 's', value: '?' }] },
      answerAddress: address,
    }),
    asked: ({ address, args: [argument] }) => (argument?.type === 's' ? address : null),
  },
};

/**
 * A session to a desk that is a function, over a network that takes 5 ms each way. However it is asked, the desk is told
 * of a question as an address without arguments, and answers at that address.
 */
const sessionOver = (
  way: Way,
  desk: Desk,
  ratePerSecond = 1e6,
  policy: RetryPolicy = retry,
  onSilence: (leftMs: number | null) => void = () => undefined,
) => {
  const time = virtualTime();
  const sent: { readonly atMs: number; readonly message: OscMessage }[] = [];
  let hear: (packet: Uint8Array) => void = () => undefined;
  let fault: (fault: TransportFault) => void = () => undefined;
  const bring = (answers: readonly (OscMessage | Uint8Array)[]): void => {
    for (const answer of answers) {
      const packet =
        answer instanceof Uint8Array
          ? ok(answer)
          : codec.encode({ ...answer, address: way.question(answer.address).answerAddress });
      if (packet.ok) hear(packet.value);
    }
  };
  const transport: Transport = {
    kind: 'udp',
    destination: 'a desk by UDP',
    send: async (packet) => {
      const decoded = codec.decode(packet);
      if (!decoded.ok || isBundle(decoded.value)) throw new Error('a session sends single messages');
      const asked = way.asked(decoded.value);
      const message = asked === null ? decoded.value : { address: asked, args: [] };
      sent.push({ atMs: time.clock.nowMs(), message });
      const answers = desk(message, sent.length);
      time.at(2 * tripMs, () => bring(answers));
      return ok(undefined);
    },
    onPacket: (listener) => {
      hear = listener;
    },
    onFault: (listener) => {
      fault = listener;
    },
    close: async () => undefined,
  };
  const session = openSession({
    transport,
    codec,
    clock: time.clock,
    ratePerSecond,
    retry: policy,
    onSilence,
  });
  return { ...time, session, sent, bring, fail: (each: TransportFault) => fault(each) };
};

const integer = (value: number): OscArgument => ({ type: 'i', value });

/** A desk that keeps what it is told and answers reads; what it does with a message may be changed. */
const keeping = (start: Readonly<Record<string, number>>) => {
  const standing = new Map(Object.entries(start).map(([address, value]) => [address, integer(value)]));
  const desk = ({ address, args: [argument] }: OscMessage): readonly OscMessage[] => {
    if (argument) standing.set(address, argument);
    const stands = standing.get(address);
    return argument || !stands ? [] : [{ address, args: [stands] }];
  };
  return { desk, standing };
};

const jobsOver = ({ question }: Way) => ({
  read: (address: string): Job => ({
    address,
    question: question(address),
    write: null,
    judge: () => null,
  }),
  set: (address: string, value: number): Job => ({
    address,
    question: question(address),
    write: { address, args: [integer(value)] },
    judge: (answer) => ('value' in answer && answer.value === value ? null : 'it reads otherwise'),
  }),
});

/** A desk that is deaf at `/late`, and a network that brings an old answer from there before it is asked. */
const sessionWithStaleAnswer = (way: Way) => {
  const { desk } = keeping({ '/slow': 0 });
  let isTold = false;
  const lines = sessionOver(
    way,
    (message) => {
      if (message.address === '/late') return [];
      if (isTold) return desk(message);
      isTold = true;
      return [{ address: '/late', args: [integer(7)] }, ...desk(message)];
      // Slow enough for the old answer to arrive before the question leaves.
    },
    20,
  );
  return { ...lines, stale: () => isTold };
};

describe.each(Object.entries(ways))('a session to a desk that is asked %s', (_, way) => {
  const sessionTo = (desk: Desk, ratePerSecond?: number) => sessionOver(way, desk, ratePerSecond);
  const { read, set } = jobsOver(way);

  it('writes, then reads back', async () => {
    const { desk, standing } = keeping({ '/a': 1, '/b': 2 });
    const { session, run, sent } = sessionTo(desk);
    const results = await run(session.exchange([set('/a', 7), read('/b')], never));
    expect(results).toEqual([
      { kind: 'held', read: integer(7) },
      { kind: 'held', read: integer(2) },
    ]);
    expect(sent.map(({ message: { address, args } }) => [address, args.length])).toEqual([
      ['/a', 1],
      ['/a', 0],
      ['/b', 0],
    ]);
    expect(standing.get('/a')).toEqual(integer(7));
    expect(session.written()).toEqual(new Map([['/a', integer(7)]]));
  });

  it('never sends more than so many messages a second', async () => {
    const { desk } = keeping(Object.fromEntries(Array.from({ length: 90 }, (_, i) => [`/a/${i}`, i])));
    const { session, run, sent } = sessionTo(desk, 50);
    await run(
      session.exchange(
        Array.from({ length: 90 }, (_, i) => read(`/a/${i}`)),
        never,
      ),
    );
    expect(sent).toHaveLength(90);
    for (const [index, { atMs }] of sent.entries()) {
      const within = sent.slice(0, index + 1).filter((other) => other.atMs > atMs - 1000);
      // One more than fifty may lie in a second that begins just after one was sent late.
      expect(within.length).toBeLessThanOrEqual(51);
    }
  });

  it('sends again what was lost, the write with its readback, and nothing else', async () => {
    const { desk, standing } = keeping({ '/a': 1, '/b': 2 });
    const lossy: Desk = (message, nth) => (nth <= 2 || nth === 5 ? [] : desk(message));
    const { session, run, sent } = sessionTo(lossy);
    const results = await run(session.exchange([set('/a', 7), read('/b')], never));
    expect(results.map(({ kind }) => kind)).toEqual(['held', 'held']);
    expect(standing.get('/a')).toEqual(integer(7));
    expect(sent.slice(3).every(({ message }) => message.address === '/a' || message.args.length === 0)).toBe(
      true,
    );
  });

  it('tells what reads otherwise however often it is written', async () => {
    const { desk, standing } = keeping({ '/stuck': 1, '/b': 2 });
    const stuck: Desk = (message) =>
      message.address === '/stuck' && message.args.length > 0 ? [] : desk(message);
    const { session, run } = sessionTo(stuck);
    const results = await run(session.exchange([set('/stuck', 7), set('/b', 8)], never));
    expect(results[0]).toEqual({ kind: 'otherwise', read: integer(1), why: 'it reads otherwise' });
    expect(results[1]).toEqual({ kind: 'held', read: integer(8) });
    expect(standing.get('/b')).toEqual(integer(8));
    expect(session.lost()).toBeNull();
  });

  it('tells an address that is deaf from a desk that is lost', async () => {
    const { desk } = keeping({ '/b': 2 });
    const { session, run } = sessionTo(desk);
    const results = await run(session.exchange([read('/b'), read('/deaf')], never));
    expect(results.map(({ kind }) => kind)).toEqual(['held', 'silent']);
    expect(session.lost()).toBeNull();
    expect((await run(session.exchange([read('/b')], never))).map(({ kind }) => kind)).toEqual(['held']);
  });

  it('sends nothing more once a desk has fallen silent', async () => {
    const { desk } = keeping({ '/a': 1, '/b': 2 });
    const { session, run, sent } = sessionTo((message, nth) => (nth > 3 ? [] : desk(message)));
    await run(session.exchange([read('/a'), set('/b', 3)], never));
    const results = await run(session.exchange([set('/a', 5), set('/b', 5)], never));
    expect(results.every(({ kind }) => kind === 'silent' || kind === 'stopped')).toBe(true);
    expect(session.lost()?.code).toBe('desk-silent');
    const before = sent.length;
    expect(await run(session.exchange([set('/a', 6)], never))).toEqual([{ kind: 'stopped', wasSent: false }]);
    expect(sent.length).toBe(before);
  });

  it('takes no answer that came before the question', async () => {
    const { session, run, stale } = sessionWithStaleAnswer(way);
    const results = await run(session.exchange([set('/slow', 1), set('/late', 7)], never));
    expect(results.map(({ kind }) => kind)).toEqual(['held', 'silent']);
    expect(stale()).toBe(true);
  });

  it('stops at once when its connection ends', async () => {
    const { desk } = keeping({ '/a': 1 });
    const { session, run, sent, fail } = sessionTo(desk);
    fail({ problem: problem('desk-unreachable', '', 'The connection was closed.'), ended: true });
    expect(await run(session.exchange([set('/a', 2)], never))).toEqual([{ kind: 'stopped', wasSent: false }]);
    expect(sent).toEqual([]);
    expect(session.lost()?.code).toBe('desk-unreachable');
  });

  it('sends nothing more once it is interrupted', async () => {
    const { desk } = keeping({ '/a': 1, '/b': 2 });
    const interruption = new AbortController();
    const { session, run, sent } = sessionTo((message, nth) => {
      if (nth === 2) interruption.abort();
      return desk(message);
    });
    const results = await run(session.exchange([set('/a', 5), set('/b', 5)], interruption.signal));
    // The first had left, with its question; the second had not.
    expect(results).toEqual([
      { kind: 'stopped', wasSent: true },
      { kind: 'stopped', wasSent: false },
    ]);
    expect(sent).toHaveLength(2);
    expect([...session.written().keys()]).toEqual(['/a']);
  });

  it.each<[string, (message: OscMessage) => readonly (OscMessage | Uint8Array)[]]>([
    ['bytes that are no OSC', () => [new Uint8Array([1, 2, 3])]],
    ['another address', () => [{ address: '/other', args: [integer(9)] }]],
    ['the address without a value', ({ address }) => [{ address, args: [] }]],
    ['two values', ({ address }) => [{ address, args: [integer(9), integer(9)] }]],
  ])('takes %s for no answer', async (_, strange) => {
    const { desk } = keeping({ '/a': 1 });
    const { session, run } = sessionTo((message, nth) => (nth <= 2 ? strange(message) : desk(message)));
    expect(await run(session.exchange([read('/a')], never))).toEqual([{ kind: 'held', read: integer(1) }]);
  });
});

describe('a session to a port that refuses', () => {
  const refusal: TransportFault = {
    problem: { code: 'desk-unreachable', path: '', message: 'refused' },
    ended: false,
    refused: true,
  };
  const way = ways['by an argument'] as Way;
  const { read } = jobsOver(way);
  const many = Array.from({ length: 200 }, (_, index) => read(`/a/${index}`));
  const usual = { timeoutMs: 250, retries: 7 };

  it('ends within three seconds at the usual settings, and says so', async () => {
    let refuse: (fault: TransportFault) => void = () => undefined;
    const refusing = sessionOver(
      way,
      () => {
        refuse(refusal);
        return [];
      },
      200,
      usual,
    );
    refuse = refusing.fail;
    const { session, run, clock } = refusing;
    const results = await run(session.exchange(many, never));
    expect(new Set(results.map(({ kind }) => kind))).toEqual(new Set(['stopped']));
    expect(session.lost()?.code).toBe('desk-unreachable');
    expect(session.lost()?.message).toMatch(/^No answer from a desk by UDP; the port refuses/);
    expect(clock.nowMs()).toBeLessThanOrEqual(3000);
  });

  it('goes on with a desk that answers a little later', async () => {
    const { desk } = keeping(Object.fromEntries(many.map(({ address }, index) => [address, index])));
    let refuse: (fault: TransportFault) => void = () => undefined;
    const late: ReturnType<typeof sessionOver> = sessionOver(
      way,
      (message) => {
        if (late.clock.nowMs() > 1500) return desk(message);
        refuse(refusal);
        return [];
      },
      200,
      usual,
    );
    refuse = late.fail;
    const results = await late.run(late.session.exchange(many, never));
    expect(new Set(results.map(({ kind }) => kind))).toEqual(new Set(['held']));
    expect(late.session.lost()).toBeNull();
  });
});

describe('a session to a desk that does not answer', () => {
  const way = ways['by an argument'] as Way;
  const { read } = jobsOver(way);
  const many = Array.from({ length: 400 }, (_, index) => read(`/a/${index}`));
  const usual = { timeoutMs: 250, retries: 7 };
  const exchangeWith = async (desk: Desk) => {
    const over = sessionOver(way, desk, 200, usual);
    const results = await over.run(over.session.exchange(many, never));
    return { ...over, kinds: new Set(results.map(({ kind }) => kind)) };
  };

  it('ends within three seconds at the usual settings, however much is asked', async () => {
    const { session, sent, clock, kinds } = await exchangeWith(() => []);
    expect(clock.nowMs()).toBeLessThanOrEqual(3000);
    expect(session.lost()).toMatchObject({ code: 'desk-silent' });
    expect(session.lost()?.message).toMatch(
      new RegExp(`^No answer from a desk by UDP to ${sent.length} messages\\. `),
    );
    expect([...kinds].every((kind) => kind === 'silent' || kind === 'stopped')).toBe(true);
  });

  it.each<[string, Uint8Array | OscMessage, string]>([
    ['bytes that are no OSC', new Uint8Array([1, 2, 3]), '3 bytes that are no OSC'],
    ['other addresses', { address: '/meter', args: [integer(9), integer(1)] }, '"/meter" with "ii"'],
    ['nothing in it', { address: '/alive', args: [] }, '"/alive" without arguments'],
  ])('tells what came instead: %s', async (_, strange, told) => {
    const { session, clock, sent } = await exchangeWith(() => [strange]);
    expect(clock.nowMs()).toBeLessThanOrEqual(3000);
    expect(session.lost()?.code).toBe('desk-silent');
    const [, count, what] =
      /; (\d+) packets came that tell nothing that was asked for, the last (.*?)\. Nothing/.exec(
        session.lost()?.message ?? '',
      ) ?? [];
    expect(what).toBe(told);
    // An answer each, but to what was sent in the last 10 ms.
    expect(sent.length - Number(count)).toBeLessThanOrEqual(3);
  });

  it('waits for a slow one, of two seconds', async () => {
    const { desk } = keeping(Object.fromEntries(many.map(({ address }, index) => [address, index])));
    // Its answers come 2 s after it was asked.
    const late: ReturnType<typeof sessionOver> = sessionOver(
      way,
      (message) => {
        const answers = desk(message);
        late.at(2000, () => late.bring(answers));
        return [];
      },
      200,
      usual,
    );
    const results = await late.run(late.session.exchange(many.slice(0, 40), never));
    expect(new Set(results.map(({ kind }) => kind))).toEqual(new Set(['held']));
    expect(late.session.lost()).toBeNull();
  });

  it('is lost, and not deaf here and there, once it dies after some answers', async () => {
    const { desk } = keeping(Object.fromEntries(many.map(({ address }, index) => [address, index])));
    for (const answered of [1, 20, 32, 33, 100]) {
      const { session, kinds } = await exchangeWith((message, nth) => (nth > answered ? [] : desk(message)));
      expect(session.lost()?.code).toBe('desk-silent');
      expect([...kinds].sort()).toEqual(['held', 'stopped']);
    }
  });

  it('counts down while nothing has come, and not after', async () => {
    const told: (number | null)[] = [];
    const { desk } = keeping({ '/a/0': 0 });
    const over: ReturnType<typeof sessionOver> = sessionOver(
      way,
      (message) => (over.clock.nowMs() > 1200 ? desk(message) : []),
      200,
      usual,
      (leftMs) => told.push(leftMs),
    );
    await over.run(over.session.exchange(many.slice(0, 1), never));
    expect(told.at(-1)).toBeNull();
    const left = told.slice(0, -1).map(Number);
    expect(left.length).toBeGreaterThan(1);
    expect(left).toEqual([...left].sort((a, b) => b - a));
    expect(left.every((each) => each > 0 && each < 3000)).toBe(true);
  });
});

describe('a session to a desk that cannot be asked', () => {
  it('sends nothing for a job, not even what it would write', async () => {
    const { desk, standing } = keeping({ '/a': 1 });
    const { session, run, sent } = sessionOver(ways['by an argument'] as Way, desk);
    const unasked: Job = {
      address: '/a',
      question: null,
      write: { address: '/a', args: [integer(7)] },
      judge: () => null,
    };
    expect(await run(session.exchange([unasked], never))).toEqual([{ kind: 'silent' }]);
    expect([sent, session.lost(), standing.get('/a')]).toEqual([[], null, integer(1)]);
  });
});
