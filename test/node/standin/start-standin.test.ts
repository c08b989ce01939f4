import { setTimeout } from 'node:timers/promises';
import { describe, expect, it, onTestFinished } from 'vitest';
import { oscTransports } from '../../../src/model/target.js';
import { systemClock } from '../../../src/node/network/clock.js';
import {
  type RunningStandin,
  type StartStandinOptions,
  startStandin,
} from '../../../src/node/standin/start-standin.js';
import type { StandinEvent } from '../../../src/standin/events.js';
import { askLog179, float, type int, oscClient } from '../../end-to-end/osc-client.js';
import { got, shippedDesk } from '../../standin/desk.js';

const desk = await shippedDesk('log-179');

interface Started extends RunningStandin {
  readonly events: readonly StandinEvent[];
}

const start = async (options: Partial<StartStandinOptions>): Promise<Started> => {
  const events: StandinEvent[] = [];
  const started = await startStandin({
    desk,
    kind: 'udp',
    port: 0,
    bind: '127.0.0.1',
    onEvent: (event) => events.push(event),
    ...options,
  });
  const standin = got(started);
  onTestFinished(() => standin.close());
  return { ...standin, events };
};

/** Waits until something holds; fails after five seconds. */
const until = async (holds: () => boolean): Promise<void> => {
  for (let waited = 0; !holds(); waited += 5) {
    if (waited > 5000) throw new Error('it never came to hold');
    await setTimeout(5);
  }
};

const gain = '/mix/3/filter/2/gain';

describe.each(oscTransports)('by %s', (kind) => {
  it('bundles take effect in order, and are answered message by message', async () => {
    const standin = await start({ kind });
    const client = await oscClient(kind, standin.port);
    const message = (address: string, ...args: ReturnType<typeof int>[]) =>
      ({ oscType: 'message', address, args }) as const;
    const asking = message(`/ask${gain}`);
    client.sendBundle([message(gain, float(-3)), asking, message(gain, float(3)), asking]);
    await until(() => client.heard.length === 2);
    expect(client.heard).toEqual([message(gain, float(-3)), message(gain, float(3))]);
    expect(standin.events.map(({ event }) => event)).toEqual(['write', 'read', 'write', 'read']);
  });

  it('what is no OSC packet is told and harms nothing', async () => {
    const standin = await start({ kind });
    const client = await oscClient(kind, standin.port);
    client.sendBytes(Buffer.from('nonsense'));
    client.sendBytes(Buffer.from('/abc\0\0\0\0,f\0\0\0'));
    await until(() => standin.counts().malformed === 2);
    expect(await askLog179(client, gain)).toEqual([0]);
    expect(standin.events[0]).toMatchObject({ event: 'malformed', why: expect.stringMatching(/\.$/) });
  });

  it('answers go to whoever asked', async () => {
    const standin = await start({ kind });
    const [one, other] = [await oscClient(kind, standin.port), await oscClient(kind, standin.port)];
    one.send(gain, float(-3));
    expect(await askLog179(one, gain)).toEqual([-3]);
    expect(await askLog179(other, '/mix/3/filter/2/on')).toEqual([0]);
    expect([one.heard.length, other.heard.length]).toEqual([1, 1]);
  });

  it.each([
    ['loss=30%', 400, (heard: number) => heard > 100 && heard < 300],
    ['duplicate=30%', 400, (heard: number) => heard > 500],
    ['silent-after=100', 400, (heard: number) => heard === 100],
  ])('%s', async (fault, questions, fits) => {
    const standin = await start({ kind, faults: [fault], seed: 3 });
    const client = await oscClient(kind, standin.port);
    for (let n = 0; n < questions; n++) {
      client.send(`/ask${gain}`);
      if (n % 20 === 0) await setTimeout(1);
    }
    // Longer than any second copy takes.
    await setTimeout(300);
    expect(client.heard.length).toSatisfy(fits);
    expect(standin.counts().fault).toBeGreaterThan(50);
  });

  it('reorder: later messages overtake earlier ones', async () => {
    const standin = await start({ kind, faults: ['reorder=30%'], seed: 3 });
    const client = await oscClient(kind, standin.port);
    const addresses = Array.from({ length: 64 }, (_, n) => `/mix/${(n % 16) + 1}/filter/${(n >> 4) + 1}/on`);
    for (const address of addresses) {
      client.send(`/ask${address}`);
      await setTimeout(1);
    }
    await until(() => client.heard.length === 64);
    const came = client.heard.map(({ address }) => address);
    expect(came).not.toEqual(addresses);
    expect([...came].sort()).toEqual([...addresses].sort());
  });

  it('delay: every message is late, and so is its answer', async () => {
    const waits: number[] = [];
    const clock = {
      ...systemClock,
      wait: (milliseconds: number) => {
        waits.push(milliseconds);
        return Promise.resolve();
      },
    };
    const standin = await start({ kind, faults: ['delay=60..80'], clock });
    expect(await askLog179(await oscClient(kind, standin.port), gain)).toEqual([0]);
    expect(waits).toHaveLength(2);
    expect(waits.every((milliseconds) => milliseconds >= 60 && milliseconds < 80)).toBe(true);
  });

  it('wrong-type: no answer is as it was asked for', async () => {
    const standin = await start({ kind, faults: ['wrong-type=100%'], seed: 2 });
    const client = await oscClient(kind, standin.port);
    for (let n = 0; n < 60; n++) client.send(`/ask${gain}`);
    await until(() => client.heard.length === 60);
    const kinds = new Set(client.heard.map(({ args }) => args.map(({ type }) => type).join()));
    expect([...kinds].sort()).toEqual(['', 'double', 'float,float']);
  });

  it('stuck and meddle: it reads otherwise than was written', async () => {
    const faults = [`stuck=${gain}`, 'meddle=/mix/3/filter/2/q@3'];
    const standin = await start({ kind, faults, seed: 2 });
    const client = await oscClient(kind, standin.port);
    client.send(gain, float(-3));
    client.send('/mix/3/filter/2/frequency', float(26));
    client.send('/mix/3/filter/2/q', float(2));
    expect(await askLog179(client, gain)).toEqual([0]);
    expect(await askLog179(client, '/mix/3/filter/2/frequency')).toEqual([26]);
    const meddled = standin.events.find((each) => each.event === 'write' && each.by === 'someone-else');
    expect(meddled).toMatchObject({ address: '/mix/3/filter/2/q', parameter: 'q' });
  });

  it('is closed at once, whatever is still on its way', async () => {
    const standin = await start({ kind, faults: ['delay=60000'] });
    const client = await oscClient(kind, standin.port);
    client.send(gain, float(0));
    await until(() => standin.counts().fault === 1);
    const before = JSON.stringify(standin.snapshot());
    await standin.close();
    await standin.close();
    expect(JSON.stringify(standin.snapshot())).toBe(before);
    const again = await start({ kind, port: standin.port });
    expect(again.port).toBe(standin.port);
  });

  it('a port that is taken is told', async () => {
    const standin = await start({ kind });
    const second = await startStandin({ desk, kind, port: standin.port, bind: '127.0.0.1' });
    expect(second).toMatchObject({ ok: false, error: [{ code: 'port-unavailable' }] });
  });
});

it('the same seed scatters alike, and faults asked for beside it change nothing in that', async () => {
  const [one, other, third] = [
    await start({ scatter: true, seed: 6 }),
    await start({ scatter: true, seed: 6, faults: ['loss=10%'] }),
    await start({ scatter: true, seed: 7 }),
  ];
  expect(other.snapshot()).toEqual(one.snapshot());
  expect(third.snapshot()).not.toEqual(one.snapshot());
  const state = JSON.parse(JSON.stringify(one.snapshot())) as unknown;
  expect((await start({ state })).snapshot()).toEqual(one.snapshot());
});

it('a wrong fault and a target without OSC are told before any socket is opened', async () => {
  const where = { kind: 'udp', port: 0, bind: '127.0.0.1' } as const;
  expect(await startStandin({ desk, ...where, faults: ['lost=1%'] })).toMatchObject({
    ok: false,
    error: [{ code: 'usage', path: 'faults' }],
  });
  expect(await startStandin({ desk: await shippedDesk('graphic-31'), ...where })).toMatchObject({
    ok: false,
    error: [{ code: 'osc-missing' }],
  });
});
