import { carryOut } from '../../live/carry-out.js';
import type { Line } from '../../live/line.js';
import { differingNames } from '../../live/names.js';
import type { MixPlan } from '../../live/plan.js';
import { type MixReport, reportMix } from '../../live/report.js';
import { type SurveyedMix, survey } from '../../live/survey.js';
import { blindLine } from '../../live/unread-lines.js';
import { journalOutcome, writeJournal } from '../../live/write-journal.js';
import type { Desk } from '../../model/desk.js';
import type { Journal, JournalOutcome } from '../../model/journal.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { lockDesk } from '../../node/desk-lock.js';
import { type JournalFile, openJournalFile } from '../../node/journals/journal-file.js';
import { saysTheSame } from '../../osc/encodings/registry.js';
import { ok } from '../../units/result.js';
import type { Terminal } from '../terminal.js';
import type { Interruption } from './interruption.js';
import type { OpenDesk } from './open-desk.js';

/** What is to be written where, and under which rules. */
export interface WriteTask {
  readonly purpose: Journal['purpose'];
  readonly title: string;
  readonly plans: readonly MixPlan[];
  readonly desk: Desk;
  readonly open: OpenDesk;
  readonly journalFolder: string;
  /** Whether outputs may go by other names on the desk. */
  readonly acceptNames: boolean;
  readonly interruption: Interruption;
  /** Asked once everything has been read and before anything is written. */
  agree(mixes: readonly SurveyedMix[], journal: string | null): Promise<boolean>;
}

/** How it went. */
export interface WriteDone {
  readonly result: JournalOutcome['result'] | 'not-agreed';
  readonly reports: readonly MixReport[];
  /** What kept mixes from being written to, and what ended the connection. */
  readonly problems: readonly Problem[];
  /** Null where nothing had to be kept, or nothing could be. */
  readonly journal: string | null;
  readonly counts: ReturnType<Line['counts']>;
}

/** A mix nothing is known of, for a desk that cannot be read. */
const unsurveyed = (plan: MixPlan): SurveyedMix => ({
  plan,
  slots: plan.slots.map((slot) => ({ plan: slot, found: new Map() })),
  names: [],
  problems: [],
  differs: true,
});

const untouched = (mix: SurveyedMix, desk: Desk, canRead: boolean): MixReport =>
  reportMix(
    {
      plan: mix.plan,
      slots: mix.slots.map(({ plan, found }) => ({
        goal: 'set',
        plan,
        found,
        touched: false,
        read: found,
        confirmed: found,
        holds: !mix.differs && mix.problems.length === 0,
        trouble: null,
        moved: false,
      })),
    },
    desk,
    canRead,
  );

/** Reads, asks, keeps a journal, writes, reads back. The desk is locked for this machine's other pushes meanwhile. */
export const writeToDesk = async (task: WriteTask, terminal: Terminal): Promise<Outcome<WriteDone>> => {
  const { open, journalFolder } = task;
  const lock = await lockDesk(journalFolder, open.place);
  if (!lock.ok) return lock;
  const canRead = task.desk.target.osc?.read !== 'none';
  const journal = canRead
    ? await openJournalFile(journalFolder, {
        startedAt: open.clock.timeOfDay(),
        targetId: task.desk.target.id,
        purpose: task.purpose,
      })
    : ok(null);
  try {
    return journal.ok ? await writeWith(task, journal.value, canRead, terminal) : journal;
  } finally {
    if (journal.ok) await journal.value?.discard();
    await lock.value.release();
  }
};

/** How old a reading may be that is written over. */
const freshMs = 250;

const changed = problem(
  'desk-changed',
  '',
  'Something was changed on the desk while you were asked. Nothing was written. Run it again to see what stands there now.',
);

/** Whether two surveys of the same slots found the same, to the last digit. */
const standAlike = (before: readonly SurveyedMix[], now: readonly SurveyedMix[]): boolean =>
  before.every((mix, index) =>
    mix.slots.every(({ found }, at) => {
      const other = now[index]?.slots[at]?.found;
      return (
        other?.size === found.size &&
        [...found].every(([name, argument]) => {
          const read = other.get(name);
          return read !== undefined && saysTheSame(argument, read);
        })
      );
    }),
  );

const writeWith = async (
  task: WriteTask,
  journal: JournalFile | null,
  canRead: boolean,
  terminal: Terminal,
): Promise<Outcome<WriteDone>> => {
  const { desk, open, interruption } = task;
  const { signal, hardSignal } = interruption;
  const line = canRead ? open.line : blindLine(open.line);
  if (canRead) terminal.progress(`Reading what stands on ${open.destination} ...`);
  const surveyed = canRead ? await survey(task.plans, desk, line, signal) : task.plans.map(unsurveyed);
  terminal.progress(null);
  const done = (
    result: WriteDone['result'],
    reports: readonly MixReport[],
    problems: readonly Problem[],
    place: string | null,
  ) => ok({ result, reports, problems, journal: place, counts: open.line.counts() });

  if (surveyed === null) {
    const lost = open.line.lost();
    const reports = task.plans.map((plan) => untouched(unsurveyed(plan), desk, canRead));
    return done(lost ? 'desk-lost' : 'interrupted', reports, lost ? [lost] : [], null);
  }
  const asTheyAre = () => surveyed.map((mix) => untouched(mix, desk, canRead));
  const names = task.acceptNames ? [] : differingNames(surveyed);
  if (names.length > 0) return done('falls-short', asTheyAre(), names, null);

  const problems = surveyed.flatMap((mix) => mix.problems);
  const toWrite = surveyed.filter((mix) => mix.differs && mix.problems.length === 0);
  if (toWrite.length === 0)
    return done(problems.length > 0 ? 'falls-short' : 'done', asTheyAre(), problems, null);
  const askedMs = open.clock.nowMs();
  if (!(await task.agree(surveyed, journal?.place ?? null)))
    return done(signal.aborted ? 'interrupted' : 'not-agreed', asTheyAre(), problems, null);

  // Whoever is asked may take minutes: what stands by then is what is kept and written over, or nothing is.
  const isStale = canRead && open.clock.nowMs() - askedMs > freshMs;
  const again = isStale
    ? await survey(
        toWrite.map(({ plan }) => plan),
        desk,
        line,
        signal,
      )
    : toWrite;
  if (again === null) {
    const gone = open.line.lost();
    return done(gone ? 'desk-lost' : 'interrupted', asTheyAre(), gone ? [gone] : [], null);
  }
  if (!standAlike(toWrite, again)) return done('falls-short', asTheyAre(), [changed], null);

  const { purpose, title } = task;
  const { kind: transport, host, port } = open.place;
  const facts = { purpose, title, startedAt: open.clock.timeOfDay(), desk: { transport, host, port } };
  const found = writeJournal(toWrite, desk, facts);
  const kept = journal ? await journal.store(found) : ok(undefined);
  if (!kept.ok) return kept;

  const context = { desk, line, canRead, clock: open.clock, signal, hardSignal };
  const mixes = await carryOut(toWrite, {
    ...context,
    onMix: (name, index, of) =>
      terminal.progress(`${purpose === 'push' ? 'Writing' : 'Putting back'} ${index}/${of}  ${name}`),
  });
  terminal.progress(null);
  const lost = open.line.lost();
  const written = mixes.map((mix) => reportMix(mix, desk, canRead));
  const outcome = journalOutcome(written, {
    endedAt: open.clock.timeOfDay(),
    lost: lost !== null,
    interrupted: signal.aborted,
  });
  const finished = journal ? await journal.store({ ...found, outcome }) : ok(undefined);
  const reports = surveyed.map(
    (mix) => written.find(({ name }) => name === mix.plan.name) ?? untouched(mix, desk, canRead),
  );
  const all = [...problems, ...(lost ? [lost] : []), ...(finished.ok ? [] : finished.error)];
  const result =
    outcome.result === 'done' && (problems.length > 0 || !canRead || !finished.ok)
      ? 'falls-short'
      : outcome.result;
  return done(result, reports, all, journal?.place ?? null);
};
