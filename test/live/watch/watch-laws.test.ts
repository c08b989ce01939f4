import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { MixEvent } from '../../../src/live/watch/mix-watch.js';
import { beginWatch, endWatch, stepWatch, type WatchEvent } from '../../../src/live/watch/watch-state.js';
import { problem } from '../../../src/model/problem.js';
import type { OscArgument } from '../../../src/osc/message.js';
import { shippedDesk } from '../recipe-on.js';
import { type Otherwise, readingOf, watchTaskOn } from './watched-desk.js';

/* What must hold of a watch whatever is read, in which order and when. Pictures are numbered: 0 is as set. */

const everyMs = 10_000;
const task = watchTaskOn(await shippedDesk('digits-3'), everyMs);
const bell = task.mixes[0]?.plan.slots.find(({ wanted }) => wanted.has('gain'))?.slot.id ?? '';

const float = (value: number): OscArgument => ({ type: 'f', value: Math.fround(value) });
const pictures: readonly Otherwise[] = [
  [],
  [[[bell, 'frequency'], float(440)]],
  [
    [[bell, 'frequency'], float(500)],
    [[bell, 'gain'], float(-1)],
  ],
  [[[bell, 'on'], { type: 'i', value: 0 }]],
];

/** A reading of a mix, of a picture of which one value may be missed; or that the desk is silent. */
interface Happening {
  readonly afterMs: number;
  readonly kind: 'read' | 'silent';
  readonly index: number;
  readonly picture: number;
  readonly isNewRound: boolean;
  readonly isMissed: boolean;
}

const happening: fc.Arbitrary<Happening> = fc.record({
  afterMs: fc.integer({ min: 0, max: 15_000 }),
  kind: fc.constantFrom('read', 'read', 'read', 'read', 'read', 'silent'),
  index: fc.nat({ max: task.mixes.length - 1 }),
  picture: fc.oneof(fc.constant(0), fc.nat({ max: pictures.length - 1 })),
  isNewRound: fc.boolean(),
  isMissed: fc.boolean(),
});

const silent = problem('desk-silent', '', 'Nothing comes back.');

const run = (happenings: readonly Happening[]) => {
  let state = beginWatch(task, 0);
  let [atMs, round] = [0, 0];
  const steps: {
    readonly happening: Happening;
    readonly atMs: number;
    readonly events: readonly WatchEvent[];
  }[] = [];
  for (const each of happenings) {
    atMs += each.afterMs;
    if (each.isNewRound) round++;
    const missed: Otherwise = each.isMissed ? [[[bell, 'q'], null]] : [];
    const reading = readingOf(task, each.index, [...(pictures[each.picture] ?? []), ...missed]);
    const step = stepWatch(
      state,
      each.kind === 'silent'
        ? { kind: 'silent', problem: silent, atMs }
        : { kind: 'read', index: each.index, reading, round, atMs },
      task,
    );
    state = step.state;
    steps.push({ happening: each, atMs, events: step.events });
  }
  return { state, steps, atMs, summary: endWatch(state, task, atMs) };
};

const runs = fc.array(happening, { maxLength: 60 });

const mixEventsOf = (steps: ReturnType<typeof run>['steps'], name: string | undefined): readonly MixEvent[] =>
  steps.flatMap(({ events }) => events.flatMap((each) => ('mix' in each && each.mix === name ? [each] : [])));

describe('a watch, whatever happens,', () => {
  it('counts every moment of every mix once', () => {
    fc.assert(
      fc.property(runs, (happenings) => {
        const { summary, atMs } = run(happenings);
        expect(summary.watchedMs).toBe(atMs);
        for (const { stoodMs, otherwiseMs, notKnownMs } of summary.mixes) {
          expect(Math.min(stoodMs, otherwiseMs, notKnownMs)).toBeGreaterThanOrEqual(0);
          expect(stoodMs + otherwiseMs + notKnownMs).toBeCloseTo(atMs, 6);
        }
      }),
    );
  });

  it('tells a change from what it told before, and never the same twice', () => {
    fc.assert(
      fc.property(runs, (happenings) => {
        const { steps } = run(happenings);
        for (const { plan } of task.mixes) {
          const shown = new Map<string, string | null>();
          for (const { values, event } of mixEventsOf(steps, plan.name)) {
            expect(values.length).toBeGreaterThan(0);
            for (const { output, slot, parameter, from, to, state } of values) {
              const place = `${output} ${slot} ${parameter}`;
              const before = shown.get(place);
              if (before !== undefined) expect(from).toBe(before);
              if (event !== 'found') expect(state === 'unread' ? null : from).not.toBe(to ?? '');
              shown.set(place, to);
            }
          }
        }
      }),
    );
  });

  it('gives no alarm while everything stands as set and no value is missed twice in a row', () => {
    // A round reads every mix; an answer may be missed where the round before heard it.
    const misses = fc.array(fc.array(fc.boolean(), { minLength: 2, maxLength: 2 }), { maxLength: 40 });
    const rest = { kind: 'read', picture: 0, afterMs: 5000 } as const;
    fc.assert(
      fc.property(misses, (rounds) => {
        const wasMissed = (round: number, index: number): boolean =>
          round > 0 && rounds[round]?.[index] === true && !wasMissed(round - 1, index);
        const happenings = rounds.flatMap((_, round) =>
          [0, 1].map((index) => ({
            ...rest,
            index,
            isNewRound: index === 0,
            isMissed: wasMissed(round, index),
          })),
        );
        const { steps, summary } = run(happenings);
        const alarms = steps.flatMap(({ events }) => events).filter(({ event }) => event !== 'first-round');
        expect(alarms).toEqual([]);
        expect(summary.mixes.map(({ changes }) => changes)).toEqual([0, 0]);
      }),
    );
  });

  it('has told whatever two readings in a row found alike', () => {
    fc.assert(
      fc.property(runs, fc.nat({ max: pictures.length - 1 }), (happenings, picture) => {
        const last = {
          kind: 'read',
          index: 0,
          picture,
          afterMs: 500,
          isNewRound: true,
          isMissed: false,
        } as const;
        const { state } = run([...happenings, last, last]);
        const [mix] = state.mixes;
        expect(mix?.pending).toBeNull();
        expect(mix?.told?.state).toBe(picture === 0 ? 'holds' : 'differs');
      }),
    );
  });

  it('has told, a round after something was first seen otherwise, whatever stands then', () => {
    fc.assert(
      fc.property(fc.array(fc.nat({ max: 2 }), { minLength: 1, maxLength: 8 }), (moving) => {
        const begin = {
          kind: 'read',
          index: 0,
          picture: 0,
          afterMs: 0,
          isNewRound: true,
          isMissed: false,
        } as const;
        const turns = moving.map((at) => ({ ...begin, picture: at + 1, afterMs: 100, isNewRound: false }));
        const late = { ...begin, picture: 1, afterMs: everyMs };
        const { state } = run([begin, ...turns, late]);
        expect(state.mixes[0]?.told?.state).toBe('differs');
        expect(state.mixes[0]?.pending?.sinceMs ?? Number.POSITIVE_INFINITY).toBeGreaterThan(100);
      }),
    );
  });

  it('knows no more after a thousand readings than after a few', () => {
    /** How many values a state is made of, plans aside, which it shares. */
    const sizeOf = (value: unknown): number => {
      if (value instanceof Map) return sizeOf([...value]);
      if (typeof value !== 'object' || value === null) return 1;
      const parts = Object.entries(value).filter(([name]) => name !== 'plan');
      return parts.reduce((sum, [, part]) => sum + sizeOf(part), 1);
    };
    const read = { kind: 'read', afterMs: 0, isNewRound: true, isMissed: false } as const;
    // Every mix told, and read otherwise once since: there is no more to know.
    const full = run([0, 1].flatMap((index) => [0, 1].map((picture) => ({ ...read, index, picture })))).state;
    fc.assert(
      fc.property(fc.array(happening, { minLength: 20, maxLength: 60 }), (happenings) => {
        const many = Array.from({ length: Math.ceil(1000 / happenings.length) }, () => happenings).flat();
        expect(sizeOf(run(many).state)).toBeLessThanOrEqual(sizeOf(full));
      }),
      { numRuns: 10 },
    );
  });
});
