import { writeJson } from '../../documents/write-json.js';
import { learnGrid } from '../../learning/learn-grid.js';
import type { Findings } from '../../live/learn/found.js';
import type { Recognise } from '../../live/learn/grids-left.js';
import {
  type LearnDone,
  learnOutput,
  type ProposedLearning,
  planOutput,
} from '../../live/learn/learn-output.js';
import type { MixReport } from '../../live/write/report.js';
import type { Desk } from '../../model/desk.js';
import type { Journal } from '../../model/journal.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import type { Target } from '../../model/target.js';
import { canBeAsked } from '../../osc/asking.js';
import { randomStreams } from '../../standin/random.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { systemClock } from '../network/clock.js';
import { type DeskOptions, type DeskProgress, never, withDesk } from './open-desk.js';
import { withJournal } from './with-journal.js';

/** What is about to be turned, and where. */
export interface LearnProposal extends ProposedLearning {
  /** For people: `192.0.2.7:9000 by UDP`. */
  readonly destination: string;
  /** The file that is going to keep what stands there now, before anything is written. */
  readonly journal: string;
}

export interface LearnDeskOptions extends DeskOptions {
  /** The draft: its addresses, slots and encodings are believed, its grids are not. */
  readonly desk: Desk;
  /** The one output that is written to. */
  readonly output: number;
  readonly journalFolder?: string;
  /** From readings to grids; what this library has for that where left out. */
  readonly recognise?: Recognise;
  /** A whole number: the same one tries the same places. */
  readonly seed?: number;
  /** Asked once everything has been read and before anything is written. Only true lets it be written. */
  readonly agree: (proposal: LearnProposal) => Promise<boolean>;
  readonly onGrid?: (name: string, slot: string) => void;
}

/** What was learned of a desk, and how its output was left. */
export interface LearnReport {
  readonly purpose: 'learn';
  /**
   * `done`: the output reads as it was found. `falls-short`: something does not, or nothing was written. What was learned
   * is told beside, whichever of them it is.
   */
  readonly result: LearnDone['result'];
  readonly desk: Journal['desk'];
  readonly output: number;
  /** What the desk calls the output; null where it tells no name. */
  readonly name: string | null;
  readonly journal: string | null;
  readonly findings: Findings;
  /** How the output was left; null where nothing was read of it. */
  readonly mix: MixReport | null;
  readonly messages: LearnDone['messages'];
  readonly problems: readonly Problem[];
}

const outputFault = (output: number, { target }: Desk): Problem | null => {
  const { count } = target.outputs;
  if (Number.isInteger(output) && output >= 1 && output <= count) return null;
  const told = `${output} is no output of ${quote(target.id)}: it has outputs 1 to ${count}. Name one that feeds nobody.`;
  return problem('usage', 'output', told);
};

/**
 * Finds out the grids of a desk by turning the knobs of one spare output: reads it, asks, keeps what was found in a
 * journal, makes each section silent before its knobs are turned, and puts everything back and reads it back. No other
 * output is ever written to. Problems: `usage`, `osc-missing`, `desk-unreadable`, those of `withDesk` and of a push.
 */
export const learn = async (options: LearnDeskOptions): Promise<Outcome<LearnReport>> => {
  const { desk, output, recognise = learnGrid, seed = 1, signal = never, hardSignal = never } = options;
  const { onProgress = () => undefined, onGrid = () => undefined } = options;
  const fault = outputFault(output, desk);
  if (fault) return fail([fault]);
  const plan = planOutput(output, desk);
  if (!plan.ok) return plan;
  if (!canBeAsked(desk.target)) {
    const told = `The target ${quote(desk.target.id)} cannot be read back, so nothing can be learned from it live, and nothing was sent. Read the values off its screen: bandwright learn frequency --readings "18.67k 19.32k 20.00k stop".`;
    return fail([problem('desk-unreadable', 'osc.read', told)]);
  }
  if (plan.value.slots.length === 0) {
    const told = `The target ${quote(desk.target.id)} has no address of any knob. Add them to its osc, and learn again.`;
    return fail([problem('osc-missing', 'osc.addresses', told)]);
  }
  const title = `Learning ${desk.target.id}`;
  return withDesk(desk, options, (open) =>
    withJournal(open, desk, { purpose: 'learn', folder: options.journalFolder }, async (keeper) => {
      if (!keeper) throw new Error('a desk that can be asked has a journal');
      const { session, at, destination } = open;
      const tell = (progress: DeskProgress | null): void => onProgress(progress);
      const done = await learnOutput(plan.value, {
        desk,
        output,
        session,
        clock: systemClock,
        signal,
        hardSignal,
        facts: { purpose: 'learn', title, desk: at },
        keeper,
        recognise,
        random: randomStreams(seed)(),
        onReading: (isReading) => tell(isReading ? { stage: 'reading', destination } : null),
        onGrid: (name, slot) => {
          tell({ stage: 'learning', grid: name, slot });
          onGrid(name, slot);
        },
        onPutBack: () => tell({ stage: 'putting-back', output }),
        agree: (proposed) => options.agree({ ...proposed, destination, journal: keeper.place }),
      });
      tell(null);
      if (!done.ok) return done;
      const { result, name, findings, report, problems, isKept, messages } = done.value;
      return ok({
        purpose: 'learn' as const,
        result,
        desk: at,
        output,
        name,
        journal: isKept ? keeper.place : null,
        findings,
        mix: report,
        messages,
        problems,
      });
    }),
  );
};

/** The grids of a draft that were settled, by name: every value is told, and as many as asked came as told beforehand. */
const settledSpecs = ({ findings: { grids, checks } }: LearnReport) =>
  new Map(
    [...grids.values()].flatMap(({ name, spec, open }) =>
      spec && open === null && checks.every((check) => check.name !== name || check.agrees)
        ? [[name, spec] as const]
        : [],
    ),
  );

/** Grids of a draft that were not settled: its own stay in what is written of it. */
export const openGrids = (report: LearnReport, { target }: Desk): readonly string[] => {
  const settled = settledSpecs(report);
  return Object.keys(target.quantisers).filter((name) => !settled.has(name));
};

/**
 * The draft with the grids that were learned in the place of its own, as JSON. Its evidence says that grids were tried
 * only where all of them were.
 */
export const learnedTarget = (target: Target, report: LearnReport): string => {
  const settled = settledSpecs(report);
  const names = Object.keys(target.quantisers);
  const quantisers = Object.fromEntries(
    names.map((name) => [name, settled.get(name) ?? target.quantisers[name] ?? { kind: 'table' }]),
  );
  const isWhole = names.every((name) => settled.has(name));
  const evidence = isWhole ? { ...target.evidence, grid: 'tested' as const } : target.evidence;
  return writeJson({ ...target, quantisers, evidence });
};
