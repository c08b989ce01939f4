import type { Desk } from '../../model/desk.js';
import type { Problem } from '../../model/problem.js';
import type { SurveyedMix } from '../write/survey.js';
import {
  beginMix,
  endMix,
  loseMix,
  type MixEvent,
  type MixStood,
  type MixWatch,
  type ReadTime,
  readMix,
  type WatchedMix,
} from './mix-watch.js';

/** A desk has a show to do: no more messages than these are sent to it in a second. */
export const mostWatchRate = 50;

/** How often every value is read, where nobody says. */
export const usualWatchMs = 10_000;

/** What is watched, and how often every value is to be read. */
export interface WatchTask {
  readonly desk: Desk;
  readonly mixes: readonly WatchedMix[];
  readonly everyMs: number;
}

/** What a watch tells as it happens. */
export type WatchEvent =
  | MixEvent
  /** Every mix has been judged for the first time: how many stand how. */
  | {
      readonly event: 'first-round';
      readonly holds: number;
      readonly differs: number;
      readonly unread: number;
    }
  /** The desk answers nothing any more, or the connection ended. */
  | { readonly event: 'silent'; readonly problem: Problem }
  | { readonly event: 'answering'; readonly silentMs: number };

/** Everything a watch knows; it does not grow. */
export interface WatchState {
  readonly startedMs: number;
  readonly mixes: readonly MixWatch[];
  readonly isFirstRoundTold: boolean;
  /** When it last answered. */
  readonly answeredMs: number;
  /** Since when it has not answered, once that is told; null while it answers. */
  readonly silentSinceMs: number | null;
  readonly silentMs: number;
  readonly silences: number;
}

/** What happens to a watch. */
export type WatchInput =
  | ({ readonly kind: 'read'; readonly index: number; readonly reading: SurveyedMix } & ReadTime)
  | { readonly kind: 'silent'; readonly problem: Problem; readonly atMs: number };

export const beginWatch = ({ mixes }: WatchTask, atMs: number): WatchState => ({
  startedMs: atMs,
  mixes: mixes.map(() => beginMix(atMs)),
  isFirstRoundTold: false,
  answeredMs: atMs,
  silentSinceMs: null,
  silentMs: 0,
  silences: 0,
});

interface Step {
  readonly state: WatchState;
  readonly events: readonly WatchEvent[];
}

const fallSilent = (state: WatchState, problem: Problem): Step =>
  state.silentSinceMs === null
    ? {
        state: {
          ...state,
          mixes: state.mixes.map(loseMix),
          silentSinceMs: state.answeredMs,
          silences: state.silences + 1,
        },
        events: [{ event: 'silent', problem }],
      }
    : { state, events: [] };

const answer = (state: WatchState, atMs: number): Step => {
  if (state.silentSinceMs === null) return { state: { ...state, answeredMs: atMs }, events: [] };
  const silentMs = atMs - state.silentSinceMs;
  return {
    state: { ...state, answeredMs: atMs, silentSinceMs: null, silentMs: state.silentMs + silentMs },
    events: [{ event: 'answering', silentMs }],
  };
};

const firstRound = (state: WatchState): Step => {
  const told = state.mixes.flatMap(({ told }) => (told ? [told.state] : []));
  if (state.isFirstRoundTold || told.length < state.mixes.length) return { state, events: [] };
  const count = (how: (typeof told)[number]): number => told.filter((each) => each === how).length;
  return {
    state: { ...state, isFirstRoundTold: true },
    events: [
      { event: 'first-round', holds: count('holds'), differs: count('differs'), unread: count('unread') },
    ],
  };
};

/** Takes in what happened, and tells what there is to tell of it. */
export const stepWatch = (before: WatchState, input: WatchInput, task: WatchTask): Step => {
  if (input.kind === 'silent') return fallSilent(before, input.problem);
  const { index, reading } = input;
  const [watched, was] = [task.mixes[index], before.mixes[index]];
  if (!watched || !was) throw new RangeError(`there is no mix ${index} to watch`);
  const answered = answer(before, input.atMs);
  const { mix, event } = readMix(was, reading, input, watched, task);
  const first = firstRound({ ...answered.state, mixes: before.mixes.with(index, mix) });
  return { state: first.state, events: [...answered.events, ...(event ? [event] : []), ...first.events] };
};

/** How it went, from first to last. */
export interface WatchSummary {
  /**
   * `done`: every mix stood as its recipe set it whenever it was read. `falls-short`: something did not, or could not be
   * read. `desk-lost`: the desk is silent at the end. `interrupted`: some mix had not been judged, and nothing was amiss.
   */
  readonly result: 'done' | 'falls-short' | 'desk-lost' | 'interrupted';
  readonly watchedMs: number;
  readonly silences: number;
  readonly silentMs: number;
  readonly mixes: readonly MixStood[];
}

/** Ends a watch. */
export const endWatch = (state: WatchState, task: WatchTask, atMs: number): WatchSummary => {
  const mixes = task.mixes.flatMap((watched, index) => {
    const mix = state.mixes[index];
    return mix ? [endMix(mix, watched, atMs)] : [];
  });
  const isSilent = state.silentSinceMs !== null;
  const isChanged = mixes.some(({ changes }) => changes > 0);
  const isJudged = mixes.every((mix) => mix.state !== null);
  return {
    result: isSilent ? 'desk-lost' : isChanged ? 'falls-short' : isJudged ? 'done' : 'interrupted',
    watchedMs: atMs - state.startedMs,
    silences: state.silences,
    silentMs: state.silentMs + (state.silentSinceMs === null ? 0 : atMs - state.silentSinceMs),
    mixes,
  };
};
