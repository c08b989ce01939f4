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

/** One slot of a mix, which is read in one turn. */
interface Turn {
  readonly index: number;
  readonly plan: MixPlan;
  readonly slot: MixPlan['slots'][number];
}

/** Some slots of a mix. Its outputs' names are compared once, at the start. */
const partOf = (plan: MixPlan, slots: MixPlan['slots']): MixPlan => ({ ...plan, namePlaces: [], slots });

/**
 * Watches mixes until the signal is given: reads every value once in `everyMs`, or as fast as the sessions' rate allows,
 * again where something reads otherwise, and goes on asking a desk that fell silent. It writes nothing. Problems: what
 * kept the first reading from the desk.
 */
export const watchRounds = async (options: WatchRounds): Promise<Outcome<WatchSummary>> => {
  const { task, clock, converse, signal, onFirst, onEvent, onRound } = options;
  let state = beginWatch(task, clock.nowMs());
  let round = 0;
  const turns = task.mixes.flatMap(({ plan }, index) =>
    plan.slots.map((slot): Turn => ({ index, plan, slot })),
  );
  const feed = (input: WatchInput): void => {
    const { state: next, events } = stepWatch(state, input, task);
    state = next;
    for (const event of events) onEvent(event);
  };
  const waitUntil = (dueMs: number): Promise<void> => clock.wait(Math.max(0, dueMs - clock.nowMs()), signal);
  const hasEnded = (session: Session): boolean => signal.aborted || session.lost() !== null;
  const isPending = (index: number): boolean => state.mixes[index]?.pending !== null;
  const hasAnswered = ({ index, slot }: Turn): boolean =>
    slot.parameters.some(({ address }) => state.mixes[index]?.known.has(address));

  /** Reads parts of mixes, each told by its index; nothing is taken in where the session is lost or it was stopped. */
  const read = async (
    parts: readonly { readonly index: number; readonly plan: MixPlan }[],
    session: Session,
    onFound?: (found: readonly SurveyedMix[]) => void,
  ): Promise<boolean> => {
    const plans = parts.map(({ plan }) => plan);
    const found = await survey(plans, task.desk, session, signal);
    if (!found) return false;
    onFound?.(found);
    for (const [at, reading] of found.entries()) {
      const index = parts[at]?.index;
      if (index !== undefined) feed({ kind: 'read', index, reading, round, atMs: clock.nowMs() });
    }
    return true;
  };
  /** Reads a mix whole until it is settled, so that all that was changed there is told as one. */
  const settle = async (index: number, session: Session): Promise<void> => {
    const plan = task.mixes[index]?.plan;
    for (let again = 0; plan && again < mostAgain && isPending(index) && !hasEnded(session); again++) {
      await clock.wait(settleMs, signal);
      await read([{ index, plan: partOf(plan, plan.slots) }], session);
    }
  };
  /** Reads all there is at once: with names at the start, which is when that was read, and after a silence. */
  const readAll = async (session: Session, isFirst: boolean): Promise<void> => {
    round++;
    const startedMs = clock.nowMs();
    const parts = task.mixes.map(({ plan }, index) => ({
      index,
      plan: isFirst ? plan : partOf(plan, plan.slots),
    }));
    const begin = (found: readonly SurveyedMix[]): void => {
      state = beginWatch(task, clock.nowMs());
      onFirst(found);
    };
    if (!(await read(parts, session, isFirst ? begin : undefined))) return;
    for (const { index } of parts) await settle(index, session);
    if (hasEnded(session)) return;
    onRound(round);
    await waitUntil(startedMs + task.everyMs);
  };
  /** Reads slot after slot, spread evenly over the round. */
  const readRound = async (session: Session): Promise<void> => {
    round++;
    const startedMs = clock.nowMs();
    for (const [at, { index, plan, slot }] of turns.entries()) {
      await waitUntil(startedMs + (at * task.everyMs) / turns.length);
      if (hasEnded(session)) return;
      await read([{ index, plan: partOf(plan, [slot]) }], session);
      await settle(index, session);
    }
    if (hasEnded(session)) return;
    onRound(round);
    await waitUntil(startedMs + task.everyMs);
  };
  const readRounds = async (session: Session): Promise<Problem | null> => {
    while (!hasEnded(session)) await readRound(session);
    return session.lost();
  };

  let silence = await converse(async (session) => {
    await readAll(session, true);
    return readRounds(session);
  });
  if (!silence.ok) return silence;
  if (silence.value !== null && round === 1 && !turns.some(hasAnswered)) return fail([silence.value]);
  while (!signal.aborted) {
    const problem = silence.ok ? silence.value : silence.error[0];
    if (problem) feed({ kind: 'silent', problem, atMs: clock.nowMs() });
    await clock.wait(restMs, signal);
    if (signal.aborted) break;
    silence = await converse(async (session) => {
      // Asked first for what it has answered before, and for little, in case that it is silent still.
      const lively = turns.find(hasAnswered);
      if (lively) await read([{ index: lively.index, plan: partOf(lively.plan, [lively.slot]) }], session);
      if (!hasEnded(session)) await readAll(session, false);
      return readRounds(session);
    });
  }
  return ok(endWatch(state, task, clock.nowMs()));
};
