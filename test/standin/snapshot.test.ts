import { describe, expect, it } from 'vitest';
import { randomStreams } from '../../src/standin/random.js';
import type { StandinState } from '../../src/standin/snapshot.js';
import { makeStandin } from '../../src/standin/standin.js';
import { f, i, shippedDesk, standinOf } from './desk.js';

const ids = ['log-179', 'r40', 'floats', 'octave-6', 'two-legs', 'controller-128', 'cut-section', 'lr-24'];

describe('a desk that is switched on', () => {
  it.each(ids)('%s: every slot off and flat, of its first type, frequencies apart', async (id) => {
    const desk = await shippedDesk(id);
    const { filters } = standinOf(desk).standin.snapshot();
    const { count, stereo } = desk.target.outputs;
    expect(filters.flatMap(({ outputs }) => outputs)).toEqual(Array.from({ length: count }, (_, n) => n + 1));
    expect(filters).toHaveLength(stereo === 'legs-share' ? count / 2 : count);
    for (const { slots } of filters) {
      expect(slots.map((slot) => slot.id)).toEqual(desk.target.slots.map((slot) => slot.id));
      expect(slots.every(({ on }) => !on)).toBe(true);
      expect(slots.map(({ type }) => type)).toEqual(
        desk.target.slots.map(({ types }) => Object.keys(types)[0]),
      );
      expect(
        slots.flatMap(({ knobs }) => (knobs.gain ? [Number.parseFloat(knobs.gain.display)] : [])),
      ).toEqual(slots.flatMap(({ knobs }) => (knobs.gain ? [0] : [])));
      const bells = slots.filter(({ type }) => type === 'peaking');
      expect(new Set(bells.map(({ knobs }) => knobs.frequency?.display)).size).toBe(bells.length);
    }
  });
});

describe('a snapshot', () => {
  it('is the same however a desk came to stand so, and starts another one that stands alike', async () => {
    const desk = await shippedDesk('log-179');
    const [one, other] = [standinOf(desk), standinOf(desk)];
    one.send('/mix/1/filter/1/gain', f(-9));
    one.send('/mix/1/filter/2/type', i(1));
    other.send('/mix/2/filter/2/type', i(1));
    other.send('/mix/2/filter/1/gain', f(-3));
    expect(JSON.stringify(other.standin.snapshot())).not.toBe(JSON.stringify(one.standin.snapshot()));
    other.send('/mix/2/filter/1/gain', f(-9));
    const text = JSON.stringify(one.standin.snapshot());
    expect(JSON.stringify(other.standin.snapshot())).toBe(text);
    expect(JSON.stringify(standinOf(desk, { state: JSON.parse(text) }).standin.snapshot())).toBe(text);
  });

  it.each(ids)('%s: an arbitrary state comes back as it was', async (id) => {
    const desk = await shippedDesk(id);
    const scattered = (seed: number) =>
      standinOf(desk, { scatter: randomStreams(seed)() }).standin.snapshot();
    const text = JSON.stringify(scattered(7));
    expect(JSON.stringify(scattered(7))).toBe(text);
    expect(JSON.stringify(scattered(8))).not.toBe(text);
    expect(JSON.stringify(standinOf(desk, { state: JSON.parse(text) }).standin.snapshot())).toBe(text);
    const slots = scattered(7).filters.flatMap((each) => each.slots);
    expect(new Set(slots.map(({ on }) => on)).size).toBe(2);
    expect(new Set(slots.map(({ knobs }) => knobs.frequency?.index)).size).toBeGreaterThan(slots.length / 4);
  });

  it('may tell of a few things only', async () => {
    const desk = await shippedDesk('log-179');
    const state = {
      format: 'bandwright-standin-state/1',
      target: 'log-179',
      filters: [{ outputs: [3, 4], slots: [{ id: '2', on: true, knobs: { gain: { index: 0 } } }] }],
    };
    const { ask } = standinOf(desk, { state });
    expect([ask('/mix/3/filter/2/on'), ask('/mix/4/filter/2/gain')]).toEqual([i(1), f(-16.5)]);
    expect([ask('/mix/3/filter/1/on'), ask('/mix/1/filter/2/on')]).toEqual([i(0), i(0)]);
  });
});

describe('a state that is none of this desk', () => {
  const slot = { id: '1', on: true, type: 'peaking', knobs: { gain: { index: 0, display: '-16.50 dB' } } };
  const good = {
    format: 'bandwright-standin-state/1',
    target: 'log-179',
    filters: [{ outputs: [1, 2], slots: [slot] }],
  };
  const withSlot = (change: object) => ({
    ...good,
    filters: [{ outputs: [1, 2], slots: [{ ...slot, ...change }] }],
  });

  it.each<[string, unknown, string]>([
    ['nothing', null, 'format'],
    ['a list', [], 'format'],
    ['another format', { ...good, format: 'bandwright-rig/1' }, 'format'],
    ['another target', { ...good, target: 'r40' }, 'target'],
    ['no list', { ...good, filters: 3 }, 'filters'],
    ['a stray field', { ...good, filter: [] }, ''],
    [
      'outputs that share nothing',
      { ...good, filters: [{ outputs: [2, 3], slots: [] }] },
      'filters[0].outputs',
    ],
    ['no slots at all', { ...good, filters: [{ outputs: [1, 2] }] }, 'filters[0].slots'],
    ['an unknown slot', withSlot({ id: '9' }), 'filters[0].slots[0].id'],
    ['half a switch', withSlot({ on: 1 }), 'filters[0].slots[0].on'],
    ['a type it has not', withSlot({ type: 'notch' }), 'filters[0].slots[0].type'],
    ['no type', withSlot({ type: '__proto__' }), 'filters[0].slots[0].type'],
    ['knobs in a list', withSlot({ knobs: [] }), 'filters[0].slots[0].knobs'],
    ['a knob it has not', withSlot({ knobs: { slope: { index: 0 } } }), 'filters[0].slots[0].knobs'],
    ['a step beyond', withSlot({ knobs: { gain: { index: 35 } } }), 'filters[0].slots[0].knobs.gain.index'],
    ['half a step', withSlot({ knobs: { gain: { index: 0.5 } } }), 'filters[0].slots[0].knobs.gain.index'],
    [
      'a display that is another',
      withSlot({ knobs: { gain: { index: 0, display: '-15.75 dB' } } }),
      'filters[0].slots[0].knobs.gain.display',
    ],
  ])('%s', async (_, state, path) => {
    const made = makeStandin(await shippedDesk('log-179'), { state });
    expect(made).toMatchObject({ ok: false, error: [{ code: 'standin-state-wrong', path }] });
  });

  it('the one they were made from is taken', async () => {
    const { standin } = standinOf(await shippedDesk('log-179'), { state: good });
    const state: StandinState = standin.snapshot();
    expect(state.filters[0]?.slots[0]).toMatchObject(slot);
  });
});

it('a target without OSC stands in for nothing', async () => {
  const made = makeStandin(await shippedDesk('decade-steps'));
  expect(made).toMatchObject({ ok: false, error: [{ code: 'osc-missing', path: 'osc' }] });
});

it('one address for two things is told', async () => {
  const desk = await shippedDesk('log-179', (target) => ({
    ...target,
    ...(target.osc ? { osc: { ...target.osc, addresses: { on: '/m{output}{slot}/on' }, read: 'none' } } : {}),
    slots: Array.from({ length: 12 }, (_, at) => ({ id: `${at + 1}`, types: target.slots[0]?.types ?? {} })),
  }));
  // Slot 11 of output 1, and slot 1 of output 11.
  expect(makeStandin(desk)).toMatchObject({
    ok: false,
    error: [{ code: 'osc-address-shared', message: expect.stringContaining('/m111/on') }],
  });
});
