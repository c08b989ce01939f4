import { describe, expect, it } from 'vitest';
import { planPush } from '../../src/live/plan/plan-push.js';
import type { JournalKeeper } from '../../src/live/write/journal.js';
import { type WriteDone, writeMixes } from '../../src/live/write/write-mixes.js';
import type { Desk } from '../../src/model/desk.js';
import type { Journal } from '../../src/model/journal.js';
import type { OscArgument } from '../../src/osc/message.js';
import { type Effect, fakeSession } from './fake-session.js';
import { recipeOn, shippedDesk } from './recipe-on.js';

/*
 * A report speaks of a desk after the last write to it. The desk in memory here is another one than the target says:
 * its slots depend on each other, or somebody turns them meanwhile. What is expected comes from its own state.
 */

const desk: Desk = await shippedDesk('digits-3');

const off: OscArgument = { type: 'i', value: 0 };

/** Pushes a recipe of two mixes to a desk in memory, from a state in which every switch is off. */
const pushTo = async (effect: Effect, start?: ReadonlyMap<string, OscArgument>) => {
  const plans = planPush(recipeOn(desk), desk);
  if (!plans.ok) throw new Error(JSON.stringify(plans.error));
  const everything = new Map<string, OscArgument>();
  for (const { slots } of plans.value) {
    for (const { parameters, wanted } of slots) {
      for (const { name, address, encoding } of parameters) {
        const asleep = { type: encoding.type, value: 0 } as OscArgument;
        everything.set(address, name === 'on' ? off : (wanted.get(name)?.argument ?? asleep));
      }
    }
  }
  const memory = fakeSession(start ?? everything, effect);
  const kept: Journal[] = [];
  const keeper: JournalKeeper = {
    place: 'in memory',
    store: async (journal) => {
      kept.push(journal);
      return { ok: true, value: undefined };
    },
  };
  const done = await writeMixes({
    plans: plans.value,
    desk,
    session: memory.session,
    clock: {
      nowMs: () => 0,
      timeOfDay: () => '2026-05-02T16:00:00.000Z',
      wait: async () => undefined,
    },
    signal: new AbortController().signal,
    hardSignal: new AbortController().signal,
    facts: {
      purpose: 'push',
      title: 'Tin Lighthouse',
      desk: { host: '127.0.0.1', port: 1, transport: 'udp' },
    },
    acceptNames: true,
    keeper,
    onReading: () => undefined,
    agree: async () => true,
    onMix: () => undefined,
  });
  if (!done.ok) throw new Error(JSON.stringify(done.error));
  return { done: done.value, kept, everything, ...memory };
};

/** Every value that a report says is as set, and is not. */
const untrue = (
  { reports }: WriteDone,
  everything: ReadonlyMap<string, OscArgument>,
  standing: ReadonlyMap<string, OscArgument>,
) =>
  reports.flatMap(({ values }) =>
    values.flatMap(({ address, state, parameter }) => {
      const wanted = parameter === 'on' ? 1 : valueIn(everything.get(address));
      return state === 'held' && valueIn(standing.get(address)) !== wanted ? [address] : [];
    }),
  );

const valueIn = (argument: OscArgument | undefined): unknown =>
  argument && 'value' in argument ? argument.value : undefined;

describe('the last readback', () => {
  it('is of a desk that takes everything: done', async () => {
    const { done, everything, standing } = await pushTo((address, argument) => [[address, argument]]);
    expect(done.result).toBe('done');
    expect(untrue(done, everything, standing)).toEqual([]);
  });

  it('tells of slots that switch each other off', async () => {
    const exclusive: Effect = (address, argument, standing) => {
      const [, output, slot] = /^\/mix\/(\d+)\/filter\/(\d+)\/on$/.exec(address) ?? [];
      if (output === undefined || valueIn(argument) !== 1) return [[address, argument]];
      const others = [...standing.keys()].filter(
        (each) =>
          each.startsWith(`/mix/${output}/filter/`) &&
          each.endsWith('/on') &&
          !each.includes(`/filter/${slot}/`),
      );
      return [...others.map((each) => [each, off] as const), [address, argument]];
    };
    const { done, everything, standing } = await pushTo(exclusive);
    expect(done.result).toBe('falls-short');
    expect(done.reports.map(({ state }) => state)).toContain('differs');
    expect(untrue(done, everything, standing)).toEqual([]);
  });

  it('tells of a slot that stood as wanted and was turned while another was written', async () => {
    // The pair's low cut stands already; whoever switches another slot on finds its frequency turned.
    const first = await pushTo((address, argument) => [[address, argument]]);
    const start = new Map(first.standing);
    const [turned, written] = ['/mix/1/filter/1/frequency', '/mix/1/filter/3/on'];
    expect(start.has(turned) && start.has(written)).toBe(true);
    start.set(written, off);
    for (const stubborn of [false, true]) {
      const meddling: Effect = (address, argument) => {
        if (address === written)
          return [
            [address, argument],
            [turned, { type: 'f', value: 500 }],
          ];
        return address === turned && stubborn ? [] : [[address, argument]];
      };
      const { done, standing, kept } = await pushTo(meddling, start);
      const asSet = valueIn(standing.get(turned)) === valueIn(first.standing.get(turned));
      expect(asSet).toBe(!stubborn);
      expect(done.result).toBe(stubborn ? 'falls-short' : 'done');
      expect(untrue(done, first.everything, standing)).toEqual([]);
      expect(kept.at(-1)?.outcome?.result).toBe(done.result);
    }
  });

  it('tells of a mix that stood as wanted and was turned meanwhile, and writes nothing to it: it is not in the journal', async () => {
    const first = await pushTo((address, argument) => [[address, argument]]);
    const start = new Map(first.standing);
    start.set('/mix/5/filter/3/on', off);
    const { done, writes, standing, kept } = await pushTo(
      (address, argument) => [
        [address, argument],
        ['/mix/1/filter/1/frequency', { type: 'f', value: 500 }],
      ],
      start,
    );
    expect(done.result).toBe('falls-short');
    expect(writes.map(({ address }) => address).filter((address) => address.startsWith('/mix/1/'))).toEqual(
      [],
    );
    expect(done.reports.find(({ name }) => name === 'Heron')?.state).toBe('differs');
    expect(untrue(done, first.everything, standing)).toEqual([]);
    expect(kept.at(-1)?.mixes.map(({ name }) => name)).toEqual(['Lark']);
    expect(kept.at(-1)?.outcome?.mixes.map(({ name }) => name)).toEqual(['Lark']);
  });
});
