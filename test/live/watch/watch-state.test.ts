import { describe, expect, it } from 'vitest';
import type { MixEvent } from '../../../src/live/watch/mix-watch.js';
import {
  beginWatch,
  endWatch,
  stepWatch,
  type WatchEvent,
  type WatchInput,
} from '../../../src/live/watch/watch-state.js';
import { problem } from '../../../src/model/problem.js';
import type { OscArgument } from '../../../src/osc/message.js';
import { shippedDesk } from '../recipe-on.js';
import { type Otherwise, type Place, readingOf, watchTaskOn } from './watched-desk.js';

/*
 * Times and events by hand, from what is asked of a watch: a change is told once a second reading finds the same, or a
 * round after it was first seen; what is missed once is no news. The desk is digits-3, whose frequencies, Qs and gains
 * travel as they are.
 */

const everyMs = 10_000;
const task = watchTaskOn(await shippedDesk('digits-3'), everyMs);
const bell = task.mixes[0]?.plan.slots.find(({ wanted }) => wanted.has('gain'))?.slot.id ?? '';
const frequency: Place = [bell, 'frequency'];
const gain: Place = [bell, 'gain'];

const float = (value: number): OscArgument => ({ type: 'f', value: Math.fround(value) });
const at440: Otherwise = [[frequency, float(440)]];
const at500: Otherwise = [[frequency, float(500)]];
const at600: Otherwise = [[frequency, float(600)]];
const unheard: Otherwise = [[gain, null]];
const asSet: Otherwise = [];

/** Seconds since the watch began, the round, and what the first mix reads; or that the desk is silent. */
type Row = readonly [seconds: number, round: number, reads: Otherwise] | readonly [seconds: number, 'silent'];

const silent = problem('desk-silent', '', 'Nothing comes back.');

/** Runs a watch of which the first mix reads as told; the second stands as set from the first second on. */
const watchOf = (rows: readonly Row[], endSeconds: number) => {
  let state = beginWatch(task, 0);
  const events: { readonly seconds: number; readonly event: WatchEvent }[] = [];
  const feed = (input: WatchInput): void => {
    const step = stepWatch(state, input, task);
    state = step.state;
    for (const event of step.events) events.push({ seconds: input.atMs / 1000, event });
  };
  feed({ kind: 'read', index: 1, reading: readingOf(task, 1), round: 1, atMs: 1000 });
  for (const [seconds, round, reads] of rows) {
    const atMs = seconds * 1000;
    if (round === 'silent') feed({ kind: 'silent', problem: silent, atMs });
    else feed({ kind: 'read', index: 0, reading: readingOf(task, 0, reads), round, atMs });
  }
  const summary = endWatch(state, task, endSeconds * 1000);
  const mixEvents = events.flatMap(({ event }) => ('mix' in event ? [event] : []));
  return { events, mixEvents, summary, first: summary.mixes[0] };
};

const told = (rows: readonly Row[]) =>
  watchOf(rows, 1000).events.map(({ seconds, event }) => [seconds, event.event]);

const judged = [1, 'first-round'];

describe('what a watch tells', () => {
  it.each<[string, readonly Row[], readonly unknown[]]>([
    [
      'nothing of what stands as set',
      [
        [1, 1, asSet],
        [11, 2, asSet],
        [21, 3, asSet],
      ],
      [judged],
    ],
    [
      'nothing of what reads otherwise once',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, asSet],
      ],
      [judged],
    ],
    [
      'a change once a second reading finds it, and not again while it lasts',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, at440],
        [21, 3, at440],
        [31, 4, at440],
      ],
      [judged, [12, 'changed']],
    ],
    [
      'a further change of the same value',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, at440],
        [21, 3, at500],
        [22, 3, at500],
      ],
      [judged, [12, 'changed'], [22, 'changed']],
    ],
    [
      'that it stands as set again',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, at440],
        [31, 4, asSet],
        [32, 4, asSet],
      ],
      [judged, [12, 'changed'], [32, 'as-set']],
    ],
    [
      'what never stands still, a round after it was first seen',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, at500],
        [13, 2, at600],
        [21, 3, at440],
      ],
      [judged, [21, 'changed']],
    ],
    [
      'nothing of an answer missed in one round',
      [
        [1, 1, asSet],
        [11, 2, unheard],
        [21, 3, asSet],
      ],
      [judged],
    ],
    [
      'an answer missed in two rounds and once more, and that it comes again',
      [
        [1, 1, asSet],
        [11, 2, unheard],
        [21, 3, unheard],
        [22, 3, unheard],
        [31, 4, asSet],
        [32, 4, asSet],
      ],
      [judged, [22, 'unread'], [32, 'as-set']],
    ],
    [
      'a mix that stands otherwise at first',
      [
        [1, 1, at440],
        [2, 1, at440],
        [11, 2, at440],
      ],
      [
        [2, 'found'],
        [2, 'first-round'],
      ],
    ],
    [
      'a value that never answered',
      [
        [1, 1, unheard],
        [2, 1, unheard],
        [11, 2, unheard],
      ],
      [
        [2, 'found'],
        [2, 'first-round'],
      ],
    ],
    [
      'that the desk is silent, once, and that it answers again, with what was changed meanwhile',
      [
        [1, 1, asSet],
        [12, 'silent'],
        [20, 'silent'],
        [30, 3, at440],
        [31, 3, at440],
      ],
      [judged, [12, 'silent'], [30, 'answering'], [31, 'changed']],
    ],
    [
      'no change that was seen once before the desk fell silent',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 'silent'],
        [30, 3, asSet],
      ],
      [judged, [12, 'silent'], [30, 'answering']],
    ],
  ])('is %s', (_, rows, expected) => {
    expect(told(rows)).toEqual(expected);
  });

  it('is nothing of a value that is told with other digits of the same step', () => {
    // 0.001 of a step: OSC floats of a desk that rounds otherwise.
    const set = task.mixes[0]?.plan.slots.find(({ slot }) => slot.id === bell)?.wanted.get('frequency');
    if (set?.argument.type !== 'f') throw new Error('digits-3 tells frequencies as floats');
    const beside: Otherwise = [[frequency, float(set.argument.value * 1.000001)]];
    expect(
      told([
        [1, 1, asSet],
        [11, 2, beside],
        [12, 2, beside],
        [21, 3, asSet],
      ]),
    ).toEqual([judged]);
  });

  it('is what was changed from what to what, and what is wanted', () => {
    const { mixEvents } = watchOf(
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, at440],
        [21, 3, at500],
        [22, 3, at500],
        [31, 4, asSet],
        [32, 4, asSet],
      ],
      40,
    );
    const wanted = task.mixes[0]?.plan.slots
      .find(({ slot }) => slot.id === bell)
      ?.wanted.get('frequency')?.display;
    expect(wanted).toMatch(/kHz$/);
    const place = { output: 1, slot: bell, parameter: 'frequency', set: wanted };
    // As digits-3 shows them: three significant digits.
    expect(mixEvents.map(({ values }) => values)).toMatchObject([
      [{ ...place, from: wanted, to: '440 Hz', state: 'differs' }],
      [{ ...place, from: '440 Hz', to: '500 Hz', state: 'differs' }],
      [{ ...place, from: '500 Hz', to: wanted, state: 'held' }],
    ]);
    expect(mixEvents.map(({ mix, outputs, state }) => [mix, outputs, state])).toEqual([
      ['Heron', [1, 2], 'differs'],
      ['Heron', [1, 2], 'differs'],
      ['Heron', [1, 2], 'holds'],
    ]);
    // Stood from 1 to 11 s; otherwise from 11 to 31 s.
    expect(mixEvents.map(({ afterMs }) => afterMs)).toEqual([10_000, 10_000, 20_000]);
  });
});

describe('what a change does to the pilot', () => {
  const ids = task.mixes[0]?.plan.slots.map(({ slot }) => slot.id) ?? [];
  const off: Otherwise = ids.map((id) => [[id, 'on'], { type: 'i', value: 0 }]);
  const guardOf = (reads: Otherwise): MixEvent['guard'] =>
    watchOf(
      [
        [1, 1, asSet],
        [11, 2, reads],
        [12, 2, reads],
      ],
      20,
    ).mixEvents[0]?.guard ?? null;

  it('is nothing taken there where every filter is off, which falls short', () => {
    const guard = guardOf(off);
    // Without filters nothing is taken, lost or raised: 0 dB each.
    const [none, short] = [expect.closeTo(0, 9), 'falls-short'];
    expect(guard?.now).toEqual({ pilotAttenuationDb: none, keepLossDb: none, riseDb: none, verdict: short });
  });

  it('is what its recipe told before', () => {
    const recipe = guardOf(off)?.before;
    // At least what pre-emphasis of 75 us adds at 19 kHz less a tenth, or short of it: 10 log10(1 + (2 pi 19000 tau)^2).
    const asked = 10 * Math.log10(1 + (2 * Math.PI * 19_000 * 75e-6) ** 2);
    expect(guardOf(off)?.limits.pilotAttenuationAtLeastDb).toBeCloseTo(asked, 6);
    expect((recipe?.pilotAttenuationDb ?? 0) >= asked - 1e-9).toBe(recipe?.verdict === 'met');
    expect(recipe?.pilotAttenuationDb).toBeGreaterThan(5);
  });

  it('tells what is raised, where somebody turns a cut into a boost', () => {
    const raised: Otherwise = [
      ...off.filter(([[id]]) => id !== bell),
      [frequency, float(1000)],
      [gain, float(6)],
    ];
    // A bell's gain at its centre is its gain (W3C Audio EQ Cookbook). Points lie 1/24 octave apart, so that the nearest is
    // at most 1/48 octave beside it, where its prototype gives 10 log10((d^2 + (A/Q)^2) / (d^2 + (1/AQ)^2)), d = x - 1/x:
    // 5.51 dB for 6 dB and Q 10, by hand.
    expect(guardOf(raised)?.now?.riseDb).toBeGreaterThan(5.5);
    expect(guardOf(raised)?.now?.riseDb).toBeLessThan(6.001);
  });

  it('is not known where something does not answer', () => {
    const { mixEvents } = watchOf(
      [
        [1, 1, asSet],
        [11, 2, unheard],
        [21, 3, unheard],
        [22, 3, unheard],
      ],
      30,
    );
    expect(mixEvents[0]?.guard?.now).toBeNull();
  });
});

describe('how long a mix stood', () => {
  it.each<[string, readonly Row[], readonly [stood: number, otherwise: number, notKnown: number]]>([
    [
      'all the time since it was read',
      [
        [1, 1, asSet],
        [11, 2, asSet],
      ],
      [39, 0, 1],
    ],
    [
      'until it was first seen otherwise',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, at440],
      ],
      [10, 29, 1],
    ],
    [
      'and again from when it was first seen as set',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, at440],
        [31, 4, asSet],
        [32, 4, asSet],
      ],
      [19, 20, 1],
    ],
    [
      'not while the desk was silent, from its last answer on',
      [
        [1, 1, asSet],
        [11, 2, asSet],
        [17, 'silent'],
        [30, 3, asSet],
      ],
      [20, 0, 20],
    ],
    ['not while nothing was read', [[17, 'silent']], [0, 0, 40]],
    [
      'otherwise, where it was last read so and not again',
      [
        [1, 1, asSet],
        [38, 4, at440],
      ],
      [37, 2, 1],
    ],
  ])('%s', (_, rows, [stood, otherwise, notKnown]) => {
    const { first } = watchOf(rows, 40);
    expect(first).toMatchObject({
      stoodMs: stood * 1000,
      otherwiseMs: otherwise * 1000,
      notKnownMs: notKnown * 1000,
    });
  });
});

describe('how it ended', () => {
  it.each<[string, readonly Row[], string]>([
    ['done where every mix stood', [[1, 1, asSet]], 'done'],
    [
      'done where the desk came back as set',
      [
        [1, 1, asSet],
        [12, 'silent'],
        [30, 3, asSet],
      ],
      'done',
    ],
    [
      'done where something read otherwise once',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, asSet],
      ],
      'done',
    ],
    [
      'falls-short where a mix did not',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, at440],
      ],
      'falls-short',
    ],
    [
      'falls-short where it came back',
      [
        [1, 1, asSet],
        [11, 2, at440],
        [12, 2, at440],
        [21, 3, asSet],
        [22, 3, asSet],
      ],
      'falls-short',
    ],
    [
      'falls-short where it stood otherwise from the start',
      [
        [1, 1, at440],
        [2, 1, at440],
      ],
      'falls-short',
    ],
    [
      'falls-short where it was last read otherwise',
      [
        [1, 1, asSet],
        [38, 4, at440],
      ],
      'falls-short',
    ],
    [
      'desk-lost where the desk is silent',
      [
        [1, 1, asSet],
        [12, 'silent'],
      ],
      'desk-lost',
    ],
    ['interrupted where a mix was never read', [], 'interrupted'],
  ])('%s', (_, rows, result) => {
    expect(watchOf(rows, 40).summary.result).toBe(result);
  });

  it('with how often and how long the desk was silent', () => {
    const { summary } = watchOf(
      [
        [1, 1, asSet],
        [12, 'silent'],
        [30, 3, asSet],
        [35, 'silent'],
      ],
      40,
    );
    // From its last answers: 1 to 30 s, and 30 to 40 s.
    expect([summary.silences, summary.silentMs, summary.watchedMs]).toEqual([2, 39_000, 40_000]);
  });
});
