import type { Desk } from '../../model/desk.js';
import type { Journal, JournalOutcome } from '../../model/journal.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { canBeAsked } from '../../osc/asking.js';
import { ok } from '../../units/result.js';
import type { MixPlan } from '../plan/plan.js';
import { type SlotView, viewAsleep, viewSlot } from '../plan/readback.js';
import { blindSession } from '../session/session.js';
import type { MixContext } from './converge-slots.js';
import { executePlan, untouchedSlot } from './execute-plan.js';
import { type JournalKeeper, journalOutcome, makeJournal } from './journal.js';
import { differingNames } from './names.js';
import { type MixReport, reportMix } from './report.js';
import { foundAlike, type SurveyedMix, survey, unsurveyed } from './survey.js';

/** What is about to be done to a mix, for whoever is asked. */
export interface ProposedMix {
  readonly name: string;
  readonly outputs: readonly number[];
  /** `unread`: something of it could not be read, so that nothing is written to it. */
  readonly state: 'to-write' | 'stands-so' | 'unread';
  /** What each slot is and what it becomes; null where that is not known. */
  readonly slots: readonly {
    readonly output: number;
    readonly slot: string;
    readonly now: SlotView | null;
    readonly becomes: SlotView | null;
    /** What is written besides, to knobs that the filter which is to stand there does not have. */
    readonly besides: SlotView;
  }[];
  /** What could not be read. */
  readonly problems: readonly Problem[];
}

/** What is to be written, and under which rules. */
export interface WriteTask extends Omit<MixContext, 'canRead'> {
  readonly plans: readonly MixPlan[];
  readonly facts: Pick<Journal, 'purpose' | 'title' | 'desk' | 'restores'>;
  /** Whether outputs may go by other names on the desk. */
  readonly acceptNames: boolean;
  /** Null for a desk that cannot be read: nothing of it can be kept. */
  readonly keeper: JournalKeeper | null;
  /** Told before the desk is read, and again once it has been. */
  onReading(isReading: boolean): void;
  /** Asked once everything has been read and before anything is written. */
  agree(mixes: readonly ProposedMix[]): Promise<boolean>;
}

/** How it went. */
export interface WriteDone {
  readonly result: JournalOutcome['result'] | 'not-agreed';
  readonly reports: readonly MixReport[];
  /** What kept mixes from being written to, and what ended the connection. */
  readonly problems: readonly Problem[];
  /** Whether what was found is kept. */
  readonly isKept: boolean;
}

/** How long what a port says of a refusal may take to come. */
const refusalMs = 300;

/** How old a reading may be that is written over. */
const freshMs = 250;

const changed = problem(
  'desk-changed',
  '',
  'Something was changed on the desk while you were asked. Nothing was written. Run it again to see what stands there now.',
);

const stateOf = ({ problems, differs }: SurveyedMix): ProposedMix['state'] =>
  problems.length > 0 ? 'unread' : differs ? 'to-write' : 'stands-so';

const propose = (mix: SurveyedMix, desk: Desk): ProposedMix => ({
  name: mix.plan.name,
  outputs: mix.plan.outputs,
  state: stateOf(mix),
  slots: mix.slots.map(({ plan, found }) => {
    const wanted = [...plan.wanted].map(([name, { argument }]) => [name, argument] as const);
    return {
      output: plan.output,
      slot: plan.slot.id,
      now: viewSlot(plan, found, desk),
      becomes: viewSlot(plan, new Map([...found, ...wanted]), desk),
      besides: viewAsleep(plan, found, desk),
    };
  }),
  problems: mix.problems,
});

/**
 * Reads, asks, keeps what was found, writes, and reads back. Nothing is written where names differ, where nobody
 * agreed, where the desk was changed while somebody was asked, or before what was found is safe. A failure is a journal
 * that cannot be stored.
 */
export const writeMixes = async (task: WriteTask): Promise<Outcome<WriteDone>> => {
  const { plans, desk, session, clock, signal, keeper } = task;
  const canRead = canBeAsked(desk.target);
  const context: MixContext = { ...task, session: canRead ? session : blindSession(session), canRead };
  const read = async (mixes: readonly MixPlan[]): Promise<readonly SurveyedMix[] | null> => {
    if (!canRead) return mixes.map(unsurveyed);
    task.onReading(true);
    const surveyed = await survey(mixes, desk, session, signal);
    task.onReading(false);
    return surveyed;
  };

  const first = await read(plans);
  const surveyed = first ?? plans.map(unsurveyed);
  const inState = (state: ProposedMix['state']) => surveyed.filter((mix) => stateOf(mix) === state);
  const [toWrite, alike] = [inState('to-write'), inState('stands-so')];
  const unreadProblems = surveyed.flatMap(({ problems }) => problems);
  const asItStands = (mix: SurveyedMix): MixReport => {
    const holds = alike.includes(mix);
    const slots = mix.slots.map((slot) => untouchedSlot(slot, holds));
    return reportMix({ plan: mix.plan, slots }, desk, canRead);
  };
  const nothingWritten = (result: WriteDone['result'], problems: readonly Problem[]): Outcome<WriteDone> =>
    ok({ result, reports: surveyed.map(asItStands), problems, isKept: false });
  const broken = (): Outcome<WriteDone> => {
    const lost = session.lost();
    return lost ? nothingWritten('desk-lost', [lost]) : nothingWritten('interrupted', []);
  };

  if (first === null) return broken();
  const names = task.acceptNames ? [] : differingNames(surveyed);
  if (names.length > 0) return nothingWritten('falls-short', names);
  if (toWrite.length === 0) {
    return nothingWritten(unreadProblems.length > 0 ? 'falls-short' : 'done', unreadProblems);
  }
  const askedMs = clock.nowMs();
  if ((await task.agree(surveyed.map((mix) => propose(mix, desk)))) !== true) {
    return nothingWritten(signal.aborted ? 'interrupted' : 'not-agreed', unreadProblems);
  }
  // Whoever is asked may take minutes: what stands by then is what is kept and written over, or nothing is.
  if (canRead && clock.nowMs() - askedMs > freshMs) {
    const again = await read(toWrite.map(({ plan }) => plan));
    if (again === null) return broken();
    const renamed = task.acceptNames ? [] : differingNames(again);
    if (renamed.length > 0) return nothingWritten('falls-short', renamed);
    if (!foundAlike(toWrite, again)) return nothingWritten('falls-short', [changed]);
  }

  const found = makeJournal(toWrite, desk, { ...task.facts, startedAt: clock.timeOfDay() });
  const kept = await keeper?.store(found);
  if (kept && !kept.ok) return kept;
  const done = await executePlan(toWrite, context, alike);
  const written = done.mixes.map((mix) => reportMix(mix, desk, canRead));
  // What a port that refuses says comes a little later than what was sent there.
  if (!canRead) await clock.wait(refusalMs, task.hardSignal);
  const lost = session.lost() ?? (canRead ? null : session.refusal());
  const outcome = journalOutcome(found, written, {
    endedAt: clock.timeOfDay(),
    lost: lost !== null,
    interrupted: signal.aborted,
  });
  const finished = await keeper?.store({ ...found, outcome });
  const problems = [
    ...unreadProblems,
    ...done.renamed,
    ...(lost ? [lost] : []),
    ...(finished && !finished.ok ? finished.error : []),
  ];
  const isProved = problems.length === 0 && canRead;
  return ok({
    result: outcome.result === 'done' && !isProved ? 'falls-short' : outcome.result,
    reports: surveyed.map((mix) => written.find(({ name }) => name === mix.plan.name) ?? asItStands(mix)),
    problems,
    isKept: keeper !== null,
  });
};
