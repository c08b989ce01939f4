import { joinSignals } from '../../live/session/any-signal.js';
import { nothingMoreSent } from '../../live/session/open-session.js';
import { watchedMix } from '../../live/watch/mix-watch.js';
import { watchRounds } from '../../live/watch/watch-rounds.js';
import {
  mostWatchRate,
  usualWatchMs,
  type WatchEvent,
  type WatchSummary,
} from '../../live/watch/watch-state.js';
import { type OtherName, otherNamesOf } from '../../live/write/names.js';
import type { Journal } from '../../model/journal.js';
import { type Outcome, problem } from '../../model/problem.js';
import { fail, ok } from '../../units/result.js';
import { systemClock } from '../network/clock.js';
import { type DeskOptions, never, type OpenDesk, unreadableFault, withDesk } from './open-desk.js';
import { planRecipe, type RecipeChoice } from './push.js';

/** What is about to be watched, once the desk has answered. */
export interface WatchStart {
  readonly event: 'started';
  readonly at: string;
  readonly desk: Journal['desk'];
  /** For people: `192.0.2.7:9000 by UDP`. */
  readonly destination: string;
  readonly target: string;
  readonly mixes: readonly { readonly name: string; readonly outputs: readonly number[] }[];
  /** How many values are read, and how often each: as asked, or as long as it takes at this rate. */
  readonly values: number;
  readonly everyMs: number;
  readonly roundMs: number;
  /** Outputs that go by another name on the desk than in the recipe: they may be somebody else's. Null: it told none. */
  readonly otherNames: readonly OtherName[];
}

/** What a watch tells, with the time of day it is told at: ISO 8601 in UTC. */
export type ToldEvent = WatchStart | ({ readonly at: string } & WatchEvent);

export interface WatchOptions extends RecipeChoice, DeskOptions {
  /** How often every value is to be read, 1 s to an hour; 10 s where left out. Messages a second bound it from below. */
  readonly everyMs?: number;
  /** How long after its first reading it ends by itself; where left out it goes on until the signal is given. */
  readonly forMs?: number;
  readonly onEvent: (event: ToldEvent) => void;
  /** Told whenever every value has been asked for once more, and when: ISO 8601 in UTC. */
  readonly onRound?: (round: number, at: string) => void;
}

/** How each mix stood while it was watched. */
export interface WatchReport extends WatchSummary {
  readonly purpose: 'watch';
  readonly at: string;
  readonly desk: Journal['desk'] | null;
}

const [leastEveryMs, mostEveryMs] = [1000, 3_600_000];
/** Longer than a timer of Node.js can wait is no time to end at. */
const mostForMs = 2 ** 31 - 1;

/** What of the times makes no sense; null where all does. */
const timeFault = ({
  everyMs = usualWatchMs,
  forMs = 1,
  ratePerSecond = 1,
}: WatchOptions): Outcome<never> | null => {
  const usage = (path: keyof WatchOptions, told: string) => fail([problem('usage', path, told)]);
  if (!(everyMs >= leastEveryMs && everyMs <= mostEveryMs))
    return usage('everyMs', `${everyMs} is no everyMs: give ${leastEveryMs} to ${mostEveryMs} ms.`);
  if (!(forMs > 0 && forMs <= mostForMs))
    return usage('forMs', `${forMs} is no forMs: give more than 0, and ${mostForMs} ms at most.`);
  return ratePerSecond > mostWatchRate
    ? usage(
        'ratePerSecond',
        `${ratePerSecond} is too many: a watch asks ${mostWatchRate} messages a second at most.`,
      )
    : null;
};

/** A session gives a silent desk up; a watch does not. */
const asksAgain = (event: WatchEvent): WatchEvent => {
  if (event.event !== 'silent') return event;
  const message = event.problem.message.replace(nothingMoreSent, 'It is asked again until it answers.');
  return { ...event, problem: { ...event.problem, message } };
};

/**
 * Reads a desk again and again, at a gentle rate, and tells when a mix no longer stands as its recipe set it, what that
 * does to the pilot, when the desk falls silent and comes back; and, once the signal is given, how long each mix stood.
 * It writes nothing: only questions leave. Problems: those of `planRecipe`; `nothing-to-watch` where every mix is left
 * alone; `usage`; those of `readDesk`, where the desk does not answer at the start.
 */
export const watch = async (options: WatchOptions): Promise<Outcome<WatchReport>> => {
  const fault = timeFault(options);
  if (fault) return fault;
  const planned = await planRecipe(options);
  if (!planned.ok) return planned;
  const { recipe, desk, plans } = planned.value;
  if (plans.length === 0) {
    const told = 'The recipe has no mix that would be written to, so there is nothing to watch.';
    return fail([problem('nothing-to-watch', 'mixes', told)]);
  }
  const unreadable = unreadableFault(desk);
  if (unreadable) return unreadable;
  const { everyMs = usualWatchMs, ratePerSecond = mostWatchRate, onEvent } = options;
  const mixes = plans.flatMap((plan) => {
    const made = recipe.mixes.find(({ name }) => name === plan.name);
    return made ? [watchedMix(plan, made, desk)] : [];
  });
  const values = plans
    .flatMap(({ slots }) => slots)
    .reduce((count, { parameters }) => count + parameters.length, 0);
  const over = new AbortController();
  const ending = joinSignals(options.signal ?? never, over.signal);
  let hasBegun = false;
  const deskOptions: DeskOptions = {
    ...options,
    ratePerSecond,
    signal: ending.signal,
    // Once it has begun, events tell how it goes.
    onProgress: (progress) => {
      if (!hasBegun) options.onProgress?.(progress);
    },
  };
  /** Where it was first reached. */
  const reached: Pick<OpenDesk, 'at' | 'destination'>[] = [];
  try {
    const done = await watchRounds({
      task: { desk, mixes, everyMs },
      clock: systemClock,
      signal: ending.signal,
      converse: (work) =>
        withDesk(desk, deskOptions, async ({ session, at, destination }) => {
          if (reached.length === 0) {
            reached.push({ at, destination });
            options.onProgress?.({ stage: 'reading', destination });
          }
          return ok(await work(session));
        }),
      onFirst: (found) => {
        const { forMs } = options;
        if (forMs !== undefined) void systemClock.wait(forMs, ending.signal).then(() => over.abort());
        options.onProgress?.(null);
        hasBegun = true;
        const [first] = reached;
        if (!first) throw new Error('something was read from a desk that was never reached');
        onEvent({
          event: 'started',
          at: systemClock.timeOfDay(),
          desk: first.at,
          destination: first.destination,
          target: desk.target.id,
          mixes: plans.map(({ name, outputs }) => ({ name, outputs })),
          values,
          everyMs,
          roundMs: Math.max(everyMs, (values / ratePerSecond) * 1000),
          otherNames: found.flatMap(otherNamesOf),
        });
      },
      onEvent: (event) => onEvent({ at: systemClock.timeOfDay(), ...asksAgain(event) }),
      onRound: (round) => options.onRound?.(round, systemClock.timeOfDay()),
    });
    if (!done.ok) return done;
    const place = reached[0]?.at ?? null;
    return ok({ purpose: 'watch', at: systemClock.timeOfDay(), desk: place, ...done.value });
  } finally {
    options.onProgress?.(null);
    over.abort();
    ending.release();
  }
};
