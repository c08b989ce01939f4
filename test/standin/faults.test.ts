import { describe, expect, it } from 'vitest';
import type { OscMessage } from '../../src/osc/message.js';
import type { FaultEvent } from '../../src/standin/events.js';
import type { Fault, MessageDelivery } from '../../src/standin/faults/fault.js';
import { faults, makeAskedFaults } from '../../src/standin/faults/registry.js';
import { randomStreams } from '../../src/standin/random.js';
import { f, got, i, s, shippedDesk, standinOf } from './desk.js';

const desk = await shippedDesk('log-179');
const gain = '/mix/3/filter/2/gain';
const write: OscMessage = { address: gain, args: [f(-3)] };
const question: OscMessage = { address: `/ask${gain}`, args: [] };

const incoming = (message: OscMessage): MessageDelivery => ({
  direction: 'in',
  message,
  delayMs: 0,
  by: 'sender',
});
const outgoing = (message: OscMessage): MessageDelivery => ({ ...incoming(message), direction: 'out' });

/** Faults at work beside a stand-in, and what befell. */
const atWork = (asked: readonly string[], seed = 1, on = desk) => {
  const { standin } = standinOf(on);
  const events: FaultEvent[] = [];
  const { applyFaults } = got(makeAskedFaults(asked, randomStreams(seed), standin));
  return {
    standin,
    events,
    pass: (place: Fault['place'], delivery: MessageDelivery) =>
      applyFaults(place, delivery, (event) => events.push(event)),
  };
};

const thousands = 10_000;
/** Three standard deviations of a count of 10 000 at 10 % are 90; more than 150 off is one in a million. */
const isATenth = (count: number) => expect(Math.abs(count - thousands / 10)).toBeLessThan(150);

const passMany = (asked: string, place: Fault['place'], delivery: MessageDelivery) => {
  const { pass, events } = atWork([asked]);
  return { passed: Array.from({ length: thousands }, () => pass(place, delivery)), events };
};

describe('faults on the way', () => {
  it.each([
    ['to the desk', incoming(write)],
    ['from the desk', outgoing(write)],
  ])('%s: a tenth is lost, comes twice, or is overtaken', (_, delivery) => {
    const lost = passMany('loss=10%', 'network', delivery);
    isATenth(lost.passed.filter((each) => each.length === 0).length);
    expect(lost.events.length).toBe(lost.passed.filter((each) => each.length === 0).length);

    const twice = passMany('duplicate=10%', 'network', delivery).passed;
    isATenth(twice.filter(([first, second]) => first?.delayMs === 0 && (second?.delayMs ?? 0) >= 1).length);
    expect(twice.every(([first]) => first === delivery)).toBe(true);

    const late = passMany('reorder=10%', 'network', delivery).passed;
    isATenth(late.filter(([only]) => (only?.delayMs ?? 0) >= 5).length);
    expect(late.every(({ length }) => length === 1)).toBe(true);
  });

  it('nothing at 0 %, everything at 100 %', () => {
    const none = passMany('loss=0%', 'network', incoming(write));
    expect(none.passed.every((each) => each.length === 1)).toBe(true);
    expect(none.events).toEqual([]);
    expect(passMany('loss=100%', 'network', incoming(write)).passed.flat()).toEqual([]);
  });

  it('delays lie between the two, all of the way', () => {
    const delays = passMany('delay=20..80', 'network', outgoing(write)).passed.map(([only]) => only?.delayMs);
    const [least, most] = [Math.min(...delays.map(Number)), Math.max(...delays.map(Number))];
    expect(least).toBeGreaterThanOrEqual(20);
    expect(least).toBeLessThan(21);
    expect(most).toBeLessThan(80);
    expect(most).toBeGreaterThan(79);
    expect(passMany('delay=5', 'network', incoming(write)).passed[0]?.[0]?.delayMs).toBe(5);
  });

  it('befall at their own place only', () => {
    const { pass, events } = atWork(['loss=100%', 'delay=9', `stuck=${gain}`]);
    expect(pass('desk', incoming(question))).toEqual([incoming(question)]);
    expect(pass('desk', incoming(write))).toEqual([]);
    expect(pass('network', incoming(question))).toEqual([]);
    expect(events).toEqual([
      { event: 'fault', fault: 'stuck', direction: 'in', address: gain, effect: 'dropped' },
      { event: 'fault', fault: 'loss', direction: 'in', address: `/ask${gain}`, effect: 'dropped' },
    ]);
  });

  it('befall answers in the reverse order: copies are lost together on the way in, each alone on the way out', () => {
    const asked = ['loss=50%', 'duplicate=100%'];
    const countsOf = (delivery: MessageDelivery) => {
      const { pass } = atWork(asked);
      const counts = Array.from({ length: 100 }, () => pass('network', delivery).length);
      return [...new Set(counts)].sort();
    };
    expect(countsOf(incoming(write))).toEqual([0, 2]);
    expect(countsOf(outgoing(write))).toEqual([0, 1, 2]);
  });

  it('are the same for the same seed, and one more leaves the others as they were', () => {
    const lost = (asked: readonly string[], seed: number) => {
      const { pass } = atWork(asked, seed);
      return Array.from({ length: 200 }, () => pass('network', incoming(write)).length).join('');
    };
    expect(lost(['loss=10%'], 4)).toBe(lost(['loss=10%'], 4));
    expect(lost(['loss=10%'], 4)).not.toBe(lost(['loss=10%'], 5));
    expect(lost(['loss=10%', 'delay=3'], 4)).toBe(lost(['loss=10%'], 4));
  });
});

describe('faults of the desk', () => {
  it('wrong-type: a tenth of the answers comes in another type, twofold or empty', () => {
    const answer = { address: gain, args: [f(0.5)] };
    const { passed } = passMany('wrong-type=10%', 'desk', outgoing(answer));
    const wrong = passed.flat().filter(({ message }) => message !== answer);
    isATenth(wrong.length);
    const args = wrong.map(({ message }) => message.args);
    const kinds = [
      args.filter(([only, other]) => only?.type === 'd' && other === undefined).length,
      args.filter(({ length }) => length === 2).length,
      args.filter(({ length }) => length === 0).length,
    ];
    expect(kinds.reduce((sum, count) => sum + count, 0)).toBe(wrong.length);
    expect(Math.min(...kinds)).toBeGreaterThan(200);
    const { pass } = atWork(['wrong-type=100%']);
    expect(pass('desk', incoming(write))).toEqual([incoming(write)]);
  });

  it.each([
    [gain, [gain], ['/mix/3/filter/2/q', '/mix/30/filter/2/gain']],
    ['/mix/3/*', [gain, '/mix/3/filter/4/on'], ['/mix/13/filter/2/gain']],
    ['*/gain', [gain, '/mix/16/filter/1/gain'], ['/mix/3/filter/2/frequency']],
    ['/mix/*/filter/2/*', [gain, '/mix/12/filter/2/on'], ['/mix/2/filter/1/on']],
    ['*', [gain, '/mix/1/filter/1/on'], []],
  ])('stuck=%s', (pattern, held, free) => {
    const { pass } = atWork([`stuck=${pattern}`]);
    const left = (address: string) => pass('desk', incoming({ address, args: [f(0)] })).length;
    expect(held.map(left)).toEqual(held.map(() => 0));
    expect(free.map(left)).toEqual(free.map(() => 1));
    expect(pass('desk', incoming(question))).toHaveLength(1);
    expect(pass('desk', outgoing(write))).toHaveLength(1);
  });

  it('take a question for no write, though it has an argument', async () => {
    const byArgument = await shippedDesk('floats');
    const asking = incoming({ address: gain, args: [s('?')] });
    const stuck = atWork([`stuck=${gain}`], 1, byArgument);
    expect(stuck.pass('desk', asking)).toEqual([asking]);
    expect(stuck.pass('desk', incoming(write))).toEqual([]);
    const meddled = atWork([`meddle=${gain}@1`], 1, byArgument);
    expect(meddled.pass('desk', asking)).toEqual([asking]);
    expect(meddled.pass('desk', incoming(write)).map(({ by }) => by)).toEqual(['sender', 'someone-else']);
  });

  it('silent-after: nothing more either way', () => {
    const { pass } = atWork(['silent-after=2']);
    const one = () => [pass('desk', incoming(question)).length, pass('desk', outgoing(write)).length];
    expect([one(), one(), one(), one()]).toEqual([
      [1, 1],
      [1, 1],
      [0, 0],
      [0, 0],
    ]);
    expect(atWork(['silent-after=0']).pass('desk', incoming(write))).toEqual([]);
  });

  it.each([gain, '/mix/3/filter/2/on', '/mix/3/filter/2/type', '/mix/5/filter/1/frequency'])(
    'meddle: %s is turned elsewhere once, right after the write, seldom twice alike',
    (address) => {
      const settings = Array.from({ length: 30 }, (_, seed) => {
        const { pass, standin } = atWork([`meddle=${address}@2`], seed);
        const read = () => standin.applyMessage({ address: `/ask${address}`, args: [] }, 'sender')?.args[0];
        const takeAll = (deliveries: readonly MessageDelivery[]) =>
          deliveries.map(({ message, by }) => {
            standin.applyMessage(message, by);
            return by;
          });
        expect(takeAll(pass('desk', incoming(question)))).toEqual(['sender']);
        expect(takeAll(pass('desk', incoming(write)))).toEqual(['sender']);
        const before = read();
        const second = { ...write, args: [f(-6)] };
        expect(takeAll(pass('desk', incoming(second)))).toEqual(['sender', 'someone-else']);
        const after = read();
        expect(after).not.toEqual(address === gain ? f(-6) : before);
        expect(takeAll(pass('desk', incoming(second)))).toEqual(['sender']);
        return JSON.stringify(after);
      });
      const choices = address.endsWith('on') ? 1 : 4;
      expect(new Set(settings).size).toBeGreaterThanOrEqual(choices);
    },
  );
});

describe('what is asked for', () => {
  it.each(faults.map(({ name, example }) => [`${name}=${example}`]))('%s, the example, works', (asked) => {
    expect(makeAskedFaults([asked], randomStreams(1), standinOf(desk).standin)).toMatchObject({ ok: true });
  });

  it.each([
    ['losses=10%', /no fault "losses".*loss=10%/],
    ['', /no fault ""/],
    ['loss', /"" is no share/],
    ['loss=10', /"10" is no share.*as in loss=10%/],
    ['loss=101%', /no share/],
    ['loss=-1%', /no share/],
    ['delay=80..20', /no delay/],
    ['delay=99999', /no delay.*60000/],
    ['delay=x', /no delay/],
    ['wrong-type=many', /no share/],
    ['stuck=/mix/99/*', /no address "\/mix\/99\/\*"/],
    ['stuck=', /no address ""/],
    ['silent-after=-1', /whole number/],
    ['meddle=/mix/3/filter/2/gain', /number of writes after the @/],
    ['meddle=/mix/3/filter/2/gain@0', /1 or more/],
    ['meddle=/mix/3/name@1', /nothing to turn/],
    ['meddle=/nowhere@1', /nothing to turn/],
  ])('%s is refused', (asked, why) => {
    const made = makeAskedFaults([asked, 'loss=1%'], randomStreams(1), standinOf(desk).standin);
    const error = [{ code: 'usage', path: 'faults', message: expect.stringMatching(why) }];
    expect(made).toEqual({ ok: false, error });
  });
});

it('a dial with one position is nobody to turn', async () => {
  const { standin } = standinOf(
    await shippedDesk('log-179', (target) => ({
      ...target,
      quantisers: { ...target.quantisers, gain: { kind: 'table', values: [-6] } },
    })),
  );
  expect(standin.makeMeddleMessage(gain, () => 0.5)).toBeNull();
  expect(standin.makeMeddleMessage('/mix/3/filter/2/on', () => 0.5)).toEqual({
    address: '/mix/3/filter/2/on',
    args: [i(1)],
  });
});
