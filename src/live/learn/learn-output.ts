import type { Desk } from '../../model/desk.js';
import type { Journal, JournalOutcome } from '../../model/journal.js';
import { allOf, type Outcome, type Problem, problem } from '../../model/problem.js';
import type { OscParameter } from '../../model/target.js';
import { slotParameters } from '../../osc/slot-parameters.js';
import { ok } from '../../units/result.js';
import { type MixPlan, mixPlan } from '../plan/plan.js';
import type { SlotView } from '../plan/readback.js';
import type { MixContext } from '../write/converge-slots.js';
import { asFound, executePlan, untouchedSlot } from '../write/execute-plan.js';
import { type JournalKeeper, journalOutcome, makeJournal } from '../write/journal.js';
import { renamedMixes } from '../write/names.js';
import { type MixReport, reportMix } from '../write/report.js';
import { foundAlike, type SurveyedMix, survey } from '../write/survey.js';
import { type Findings, noFindings } from './found.js';
import type { Recognise } from './grids-left.js';
import { differingLegs, otherwiseNow, partnerOf } from './other-leg.js';
import { standingView } from './standing-view.js';
import { sweepMessages } from './sweep.js';
import { makeTalk, type SlotAtWork } from './talk.js';
import { visitSlot } from './visit-slot.js';

/** What is about to be turned, for whoever is asked. */
export interface ProposedLearning {
  readonly output: number;
  /** What the desk calls it; null where it tells no name. */
  readonly name: string | null;
  /** The other leg of its pair, where the target says that they share their filters: it goes along. */
  readonly partner: number | null;
  readonly slots: readonly { readonly slot: string; readonly now: SlotView | null }[];
}

export interface LearnTask extends Pick<MixContext, 'desk' | 'session' | 'clock' | 'signal' | 'hardSignal'> {
  readonly output: number;
  readonly facts: Pick<Journal, 'purpose' | 'title' | 'desk'>;
  readonly keeper: JournalKeeper;
  readonly recognise: Recognise;
  /** Numbers within [0, 1): which places are tried. */
  readonly random: () => number;
  onReading(isReading: boolean): void;
  onGrid(name: string, slot: string): void;
  onPutBack(): void;
  agree(proposal: ProposedLearning): Promise<boolean>;
}

/** How it went. */
export interface LearnDone {
  /** `falls-short`: something of the output does not stand as it was found, or nothing proves it. */
  readonly result: JournalOutcome['result'] | 'not-agreed';
  readonly name: string | null;
  readonly findings: Findings;
  /** How the output was left; null where nothing was read. */
  readonly report: MixReport | null;
  readonly problems: readonly Problem[];
  readonly isKept: boolean;
  /** `besides`: those of them that only read the other leg. */
  readonly messages: { readonly sent: number; readonly besides: number; readonly sweep: number | null };
}

/** Everything OSC reaches of an output, and nothing wanted of it yet. */
export const planOutput = (output: number, desk: Desk): Outcome<MixPlan> => {
  const name = `Output ${output}`;
  const slots = allOf(
    desk.slots.map((slot) => {
      const parameters = slotParameters(slot, output, desk);
      return parameters.ok
        ? ok({ mix: name, output, slot, parameters: parameters.value, wanted: new Map() })
        : parameters;
    }),
  );
  const reached = slots.ok ? ok(slots.value.filter(({ parameters }) => parameters.length > 0)) : slots;
  return mixPlan({ name, outputs: [output] }, desk.target, reached, [null]);
};

const changed = problem(
  'desk-changed',
  '',
  'Something was changed on the output while you were asked. Nothing was written. Run it again to see what stands there now.',
);

/** How old a reading may be that is written over. */
const freshMs = 250;

/** The mix that puts back what was found, given what is known to stand there now. */
const toPutBack = (mix: SurveyedMix, works: readonly SlotAtWork[], desk: Desk): SurveyedMix => {
  const slots = mix.slots.map((slot, index) => {
    const work = works[index];
    return { ...slot, plan: asFound(slot, desk), ...(work?.isTouched ? { stands: work.stands } : {}) };
  });
  return { ...mix, plan: { ...mix.plan, slots: slots.map(({ plan }) => plan) }, slots };
};

/** What was written is not set anew here but as it was found. */
const asPutBack = (report: MixReport): MixReport =>
  report.state === 'applied' ? { ...report, state: 'put-back' } : report;

/**
 * Learns the grids of one output: reads it, asks, keeps what was found, turns its knobs one slot after the other, each
 * silent before, and puts everything back and proves it, whatever happened. A failure is a journal that cannot be stored.
 */
export const learnOutput = async (plan: MixPlan, task: LearnTask): Promise<Outcome<LearnDone>> => {
  const { desk, output, session, clock, signal, hardSignal, keeper } = task;
  const findings = noFindings();
  const read = async (): Promise<SurveyedMix | null> => {
    task.onReading(true);
    const [mix] = (await survey([plan], desk, session, signal)) ?? [];
    task.onReading(false);
    return mix ?? null;
  };
  const ended = (
    result: LearnDone['result'],
    mix: SurveyedMix | null,
    problems: readonly Problem[],
  ): Outcome<LearnDone> =>
    ok({
      result,
      name: mix?.names[0] ?? null,
      findings,
      report:
        mix && reportMix({ plan, slots: mix.slots.map((slot) => untouchedSlot(slot, true)) }, desk, true),
      problems,
      isKept: false,
      messages: { sent: session.counts().sent, besides: 0, sweep: null },
    });
  const broken = (mix: SurveyedMix | null): Outcome<LearnDone> => {
    const lost = session.lost();
    return lost ? ended('desk-lost', mix, [lost]) : ended('interrupted', mix, []);
  };

  let mix = await read();
  if (mix === null) return broken(null);
  if (mix.problems.length > 0) return ended('falls-short', mix, mix.problems);
  const partner = partnerOf(output, desk);
  const otherPlan = partner === null ? null : planOutput(partner, desk);
  let besides = 0;
  /** The other leg as it stands; null where there is none, or it cannot be read. */
  const readOther = async (until: AbortSignal): Promise<SurveyedMix | null> => {
    if (!otherPlan?.ok) return null;
    const before = session.counts().sent;
    const [other] = (await survey([otherPlan.value], desk, session, until)) ?? [];
    besides += session.counts().sent - before;
    return other && other.problems.length === 0 ? other : null;
  };
  const otherBefore = await readOther(signal);
  const apart = otherBefore && differingLegs(mix, otherBefore, desk);
  if (apart) return ended('falls-short', mix, [apart]);
  const askedMs = clock.nowMs();
  const isAgreed = await task.agree({
    output,
    name: mix.names[0] ?? null,
    partner,
    slots: mix.slots.map((slot) => ({
      slot: slot.plan.slot.id,
      now: standingView(slot.plan, slot.found, desk),
    })),
  });
  if (isAgreed !== true) return ended(signal.aborted ? 'interrupted' : 'not-agreed', mix, []);
  // Whoever is asked may take minutes: what stands by then is what is kept and put back, or nothing is written.
  if (clock.nowMs() - askedMs > freshMs) {
    const again = await read();
    if (again === null) return broken(mix);
    if (!foundAlike([mix], [again])) return ended('falls-short', mix, [changed]);
    mix = again;
  }
  const found = makeJournal([mix], desk, { ...task.facts, startedAt: clock.timeOfDay() });
  const kept = await keeper.store(found);
  if (!kept.ok) return kept;

  const slots = mix.slots.map(
    ({ plan: { slot, parameters }, found: values }): SlotAtWork => ({
      id: slot.id,
      parameters,
      found: values,
      stands: values,
      isTouched: false,
    }),
  );
  const talk = makeTalk(session, signal, task.facts.desk.transport !== 'udp');
  const proven = new Set<OscParameter>();
  const habits = { refusesSteps: false, refusesTexts: false };
  const { recognise, random } = task;
  const context = { desk, talk, slots, findings, partner, habits, proven, recognise, random };
  const onGrid = (name: string, _: unknown, slot: string): void => task.onGrid(name, slot);
  const shapes = new Set<string>();
  const visits = async (): Promise<readonly Problem[]> => {
    for (const slot of slots) {
      // A desk that was renumbered meanwhile is somebody else's.
      const renamed = await renamedMixes([mix], session, signal, slots[0] !== slot);
      if (renamed.length > 0) return renamed;
      const shape = JSON.stringify(desk.target.slots.find(({ id }) => id === slot.id)?.types ?? {});
      const went = await visitSlot(slot, shapes.has(shape), { ...context, onGrid });
      if (went === 'over') break;
      shapes.add(shape);
    }
    return [];
  };
  // A bug of ours is no reason to leave the output turned: it is thrown on once all is put back.
  const bugs: unknown[] = [];
  const moved = await visits().catch((error: unknown) => {
    bugs.push(error);
    return [];
  });

  task.onPutBack();
  const back = toPutBack(mix, slots, desk);
  // Ctrl-C ends the learning, and not the putting back.
  const work: MixContext = {
    desk,
    session,
    canRead: true,
    clock,
    signal: hardSignal,
    hardSignal,
    onMix: () => undefined,
  };
  const done = await executePlan([back], work);
  const reports = done.mixes.map((each) => reportMix(each, desk, true));
  const otherAfter = otherBefore && (await readOther(hardSignal));
  const otherwise = otherBefore ? otherwiseNow(otherBefore, otherAfter, desk) : [];
  const lost = session.lost();
  const outcome = journalOutcome(found, reports, {
    endedAt: clock.timeOfDay(),
    lost: lost !== null,
    interrupted: signal.aborted,
  });
  const shown = reports.map(asPutBack);
  const mixes = outcome.mixes.map((each, index) => ({ ...each, state: shown[index]?.state ?? each.state }));
  const finished = await keeper.store({ ...found, outcome: { ...outcome, mixes } });
  if (bugs.length > 0) throw bugs[0];
  const renamed = [...(moved.length > 0 ? moved : done.renamed), ...(lost ? [] : otherwise)];
  return ok({
    result: outcome.result === 'done' && renamed.length > 0 ? 'falls-short' : outcome.result,
    name: mix.names[0] ?? null,
    findings,
    report: shown[0] ?? null,
    problems: [...renamed, ...(lost ? [lost] : []), ...(finished.ok ? [] : finished.error)],
    isKept: true,
    messages: { sent: session.counts().sent, besides, sweep: sweepMessages(desk, slots, findings.grids) },
  });
};
