import { describe, expect, it } from 'vitest';
import { closingText, stoodLines, timeText, watchLines } from '../../src/cli/watch/watch-lines.js';
import type { ValueChange } from '../../src/live/watch/mix-standing.js';
import type { MixEvent, MixStood } from '../../src/live/watch/mix-watch.js';
import type { WatchSummary } from '../../src/live/watch/watch-state.js';
import { problem } from '../../src/model/problem.js';
import { db } from '../../src/units/quantity.js';

/* What a watch says in words; the values are made up. */

const at = '2026-05-04T18:30:00.000Z';
const wide = 200;

const change = (told: Partial<ValueChange> = {}): ValueChange => ({
  output: 1,
  slot: '3',
  parameter: 'gain',
  address: '/mix/1/filter/3/gain',
  set: '-15.0 dB',
  from: '-15.0 dB',
  to: '-3.0 dB',
  state: 'differs',
  ...told,
});

const event = (told: Partial<MixEvent> = {}): { readonly at: string } & MixEvent => ({
  at,
  event: 'changed',
  mix: 'Heron',
  outputs: [1, 2],
  state: 'differs',
  values: [change()],
  guard: null,
  afterMs: 0,
  ...told,
});

/** An event as it is told, without the time of day, which hangs on where one is. */
const told = (each: Parameters<typeof watchLines>[0]): readonly string[] =>
  watchLines(each, wide).map((line) => line.replace(/^\d\d:\d\d:\d\d {2}/, '').trim());

describe('a change is told', () => {
  it.each<[string, Partial<ValueChange>, string]>([
    ['from what to what', {}, 'gain was -15.0 dB, reads -3.0 dB'],
    [
      'with what is wanted, where that is another',
      { from: '-9.0 dB' },
      'gain was -9.0 dB, reads -3.0 dB, -15.0 dB is wanted',
    ],
    ['where nothing was known before', { from: null }, 'gain reads -3.0 dB, -15.0 dB is wanted'],
    [
      'where it is as set again',
      { from: '-3.0 dB', to: '-15.0 dB', state: 'held' },
      'gain was -3.0 dB, is -15.0 dB again',
    ],
    ['where nothing comes', { to: null, state: 'unread' }, 'gain was -15.0 dB, no fit answer comes'],
    [
      'where it shows as set and is not',
      { from: '-3.0 dB', to: '-15.0 dB' },
      'gain was -3.0 dB, reads -15.0 dB, and not exactly what is wanted',
    ],
  ])('%s', (_, value, text) => {
    expect(told(event({ values: [change(value)] }))).toEqual([
      'DIFFERS     1/2     Heron: changed',
      `output 1, slot 3: ${text}`,
    ]);
  });

  it('a slot a line, legs that changed alike together', () => {
    const values = [1, 2].flatMap((output) => [
      change({ output }),
      change({ output, parameter: 'on', from: 'on', set: 'on', to: 'off' }),
    ]);
    expect(told(event({ values: [...values, change({ output: 2, slot: '4' })] })).slice(1)).toEqual([
      'outputs 1/2, slot 3: gain was -15.0 dB, reads -3.0 dB; on was on, reads off',
      'output 2, slot 4: gain was -15.0 dB, reads -3.0 dB',
    ]);
  });

  it.each<[string, Partial<MixEvent>, string]>([
    ['at the start', { event: 'found' }, 'DIFFERS     1/2     Heron: not as the recipe set it'],
    [
      'back as set',
      { event: 'as-set', state: 'holds', afterMs: 252_000 },
      'HOLDS       1/2     Heron: as set again, after 4 min 12 s',
    ],
    [
      'out of reach',
      { event: 'unread', state: 'unread' },
      'NOT KNOWN   1/2     Heron: cannot be read whole any more',
    ],
  ])('%s', (_, how, line) => {
    expect(told(event(how))[0]).toBe(line);
  });

  it('with what it does to the pilot, and in what else it falls short', () => {
    const limits = {
      pilotAttenuationAtLeastDb: db(15.6),
      keepLossAtMostDb: db(3),
      keepLossAsAskedDb: null,
      riseAtMostDb: db(0.1),
    };
    const before = {
      pilotAttenuationDb: db(25.3),
      keepLossDb: db(1.8),
      riseDb: db(0),
      verdict: 'met',
    } as const;
    const now = { ...before, pilotAttenuationDb: db(-6), riseDb: db(6), verdict: 'falls-short' } as const;
    const textOf = (guard: MixEvent['guard']) => told(event({ guard }))[2];
    expect(textOf({ before, now, limits })).toBe(
      'pilot was 25.3 dB down, is 6.0 dB up, at least 15.6 dB asked; up to 6.0 dB is added, at most 0.1 dB asked',
    );
    expect(textOf({ before: null, now: before, limits })).toBe('pilot 25.3 dB down, at least 15.6 dB asked');
    expect(textOf({ before, now: null, limits })).toBe('what is taken at the pilot is not known');
  });
});

it('a silent desk is told with why, and that it is asked again', () => {
  const why = problem(
    'desk-silent',
    '',
    'Nothing comes back from the desk. Nothing more was sent. Check that it is on.',
  );
  expect(told({ at, event: 'silent', problem: why })).toEqual([
    'SILENT      Nothing comes back from the desk. It is asked again until it answers.',
  ]);
  expect(told({ at, event: 'answering', silentMs: 75_000 })).toEqual([
    'ANSWERS     the desk answers again, after 1 min 15 s',
  ]);
});

it('text from outside is shown and not obeyed', () => {
  expect(told(event({ mix: 'He\u001b[2Jron' }))[0]).not.toContain('\u001b');
  const values = [change({ to: 'x\u001b[2J' })];
  expect(told(event({ values })).join()).not.toContain('\u001b');
});

it.each([
  [0, '0 s'],
  [59_400, '59 s'],
  [59_600, '1 min'],
  [252_000, '4 min 12 s'],
  [3_600_000, '1 h'],
  [10_740_000, '2 h 59 min'],
])('%i ms is %s', (milliseconds, text) => {
  expect(timeText(milliseconds)).toBe(text);
});

describe('the end', () => {
  const mix: MixStood = {
    name: 'Heron',
    outputs: [1, 2],
    state: 'holds',
    stoodMs: 10_740_000,
    otherwiseMs: 0,
    notKnownMs: 0,
    changes: 0,
    unconfirmed: 0,
    guard: null,
  };
  const summary: WatchSummary = {
    result: 'done',
    watchedMs: 10_740_000,
    silences: 0,
    silentMs: 0,
    mixes: [mix],
  };

  it('tells how long each mix stood, otherwise, and was not known', () => {
    const other = { ...mix, state: 'differs', otherwiseMs: 60_000, notKnownMs: 5000, changes: 2 } as const;
    expect(stoodLines({ ...summary, mixes: [mix, other] }, wide)).toEqual([
      'HOLDS       1/2     Heron: stood 2 h 59 min',
      'DIFFERS     1/2     Heron: stood 2 h 59 min, otherwise 1 min, not known 5 s, told 2 times',
    ]);
  });

  it.each<[Partial<WatchSummary>, string]>([
    [{}, 'Watched 1 mix for 2 h 59 min: every mix stood as the recipe set it whenever it was read.'],
    [
      { mixes: [mix, { ...mix, changes: 1 }], result: 'falls-short' },
      'Watched 2 mixes for 2 h 59 min: 1 did not stand as the recipe set it throughout.',
    ],
    [
      { result: 'desk-lost', silences: 2, silentMs: 90_000 },
      'Watched 1 mix for 2 h 59 min: every mix stood as the recipe set it whenever it was read. The desk fell silent 2 times, for 1 min 30 s in all, and still is.',
    ],
  ])('%#: in a sentence', (how, text) => {
    expect(closingText({ ...summary, ...how })).toBe(text);
  });
});
