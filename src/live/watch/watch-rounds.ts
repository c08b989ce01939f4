import type { Outcome, Problem } from '../../model/problem.js';
import { fail, ok } from '../../units/result.js';
import type { MixPlan } from '../plan/plan.js';
import type { Clock } from '../session/clock.js';
import type { Session } from '../session/session.js';
import { type SurveyedMix, survey } from '../write/survey.js';
import {
  beginWatch,
  endWatch,
  stepWatch,
  type WatchEvent,
  type WatchInput,
  type WatchSummary,
  type WatchTask,
} from './watch-state.js';

/** Does some work in a conversation with the desk, which is opened for it and closed afterwards. */
export type Converse = (
  work: (session: Session) => Promise<Problem | null>,
) => Promise<Outcome<Problem | null>>;

export interface WatchRounds {
  readonly task: WatchTask;
  readonly clock: Clock;
  readonly converse: Converse;
  /** Ends the watch. */
  readonly signal: AbortSignal;
  /** Told what the first reading found: names among it. */
  readonly onFirst: (found: readonly SurveyedMix[]) => void;
  readonly onEvent: (event: WatchEvent) => void;
  /** Told whenever every value has been asked for once more. */
  readonly onRound: (round: number) => void;
}

/** Who turns a knob takes a moment; then it is read again. */
const settleMs = 500;
/** How often it is read again in one turn; what moves on then waits for its next turn. */
const mostAgain = 3;
/** How long a silent desk is left alone between two tries. */
const restMs = 2000;

/**
 * Reads a mix, one slot before the others, so that a desk that fell silent is asked little. Null where the session is
 * lost or it was stopped.
 */
const readSlots = async (
  plan: MixPlan,
  hasAnswered: (address: string) => boolean,
  { desk }: WatchTask,
  session: Session,
  signal: AbortSignal,
): Promise<SurveyedMix | null> => {
  const known = plan.slots.find(({ parameters }) => parameters.some(({ address }) => hasAnswered(address)));
  const first = known ?? plan.slots[0];
  const slots: SurveyedMix['slots'][number][] = [];
  for (const some of [
    plan.slots.filter((slot) => slot === first),
    plan.slots.filter((slot) => slot !== first),
  ]) {
    if (some.length === 0) continue;
    const read = await survey([{ ...plan, namePlaces: [], slots: some }], desk, session, signal);
    if (!read) return null;
    slots.push(...read.flatMap((mix) => mix.slots));
  }
  return { plan, slots, names: [], problems: [], differs: false };
};

/**
 * Watches mixes until the signal is given: reads every value once in `everyMs`, or as fast as the sessions' rate allows,
 * again where something reads otherwise, and goes on asking a desk that fell silent. It writes nothing. Problems: what
 * kept the first reading from the desk.
 */
export const watchRounds = async (options: WatchRounds): Promise<Outcome<WatchSummary>> => {
  const { task, clock, converse, signal, onFirst, onEvent, onRound } = options;
  let state = beginWatch(task, clock.nowMs());
  let round = 0;
  const feed = (input: WatchInput): void => {
    const { state: next, events } = stepWatch(state, input, task);
    state = next;
    for (const event of events) onEvent(event);
  };
  const feedReading = (index: number, reading: SurveyedMix): void =>
    feed({ kind: 'read', index, reading, round, atMs: clock.nowMs() });
  const waitUntil = (dueMs: number): Promise<void> => clock.wait(Math.max(0, dueMs - clock.nowMs()), signal);
  const isPending = (index: number): boolean => state.mixes[index]?.pending !== null;

  const read = async (index: number, session: Session): Promise<void> => {
    const plan = task.mixes[index]?.plan;
    if (!plan) return;
    const hasAnswered = (address: string): boolean => state.mixes[index]?.known.has(address) === true;
    const reading = await readSlots(plan, hasAnswered, task, session, signal);
    if (reading) feedReading(index, reading);
  };
  const hasEnded = (session: Session): boolean => signal.aborted || session.lost() !== null;
  const settle = async (index: number, session: Session): Promise<void> => {
    for (let again = 0; again < mostAgain && isPending(index) && !hasEnded(session); again++) {
      await clock.wait(settleMs, signal);
      await read(index, session);
    }
  };

  const readRound = async (session: Session): Promise<void> => {
    round++;
    const startedMs = clock.nowMs();
    const hasAnswered = (index: number): boolean => (state.mixes[index]?.known.size ?? 0) > 0;
    // A desk that was silent is to be asked first for what it has ever answered.
    const order = [...task.mixes.keys()].sort((a, b) => Number(hasAnswered(b)) - Number(hasAnswered(a)));
    for (const [turn, index] of order.entries()) {
      await waitUntil(startedMs + (turn * task.everyMs) / order.length);
      if (hasEnded(session)) return;
      await read(index, session);
      await settle(index, session);
    }
    if (hasEnded(session)) return;
    onRound(round);
    await waitUntil(startedMs + task.everyMs);
  };
  const readFirst = async (session: Session): Promise<void> => {
    round++;
    const startedMs = clock.nowMs();
    const plans = task.mixes.map(({ plan }) => plan);
    const found = await survey(plans, task.desk, session, signal);
    if (!found) return;
    onFirst(found);
    for (const [index, reading] of found.entries()) feedReading(index, reading);
    for (const index of found.keys()) await settle(index, session);
    onRound(round);
    await waitUntil(startedMs + task.everyMs);
  };

  let silence = await converse(async (session) => {
    await readFirst(session);
    while (!hasEnded(session)) await readRound(session);
    return session.lost();
  });
  const hasBegun = state.mixes.some(({ account }) => !account.isBlind);
  if (!silence.ok) return silence;
  if (!hasBegun && silence.value !== null) return fail([silence.value]);
  while (!signal.aborted) {
    const problem = silence.ok ? silence.value : silence.error[0];
    if (problem) feed({ kind: 'silent', problem, atMs: clock.nowMs() });
    await clock.wait(restMs, signal);
    if (signal.aborted) break;
    silence = await converse(async (session) => {
      while (!hasEnded(session)) await readRound(session);
      return session.lost();
    });
  }
  return ok(endWatch(state, task, clock.nowMs()));
};
