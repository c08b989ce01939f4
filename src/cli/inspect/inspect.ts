import { readRig } from '../../documents/read.js';
import { wrap } from '../../layout/wrap.js';
import { inspectionData } from '../../live/inspect/inspection-data.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import type { Rig } from '../../model/rig.js';
import type { Target } from '../../model/target.js';
import { type InspectReport, inspect } from '../../node/desk/inspect.js';
import { readInput } from '../../node/read-input.js';
import { loadDesk } from '../../node/targets.js';
import { fail, ok } from '../../units/result.js';
import { deskOptions, stopSequence, withInterrupts } from '../words/conversation.js';
import type { DeskFlags } from '../words/desk-options.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { rigGuardProblem } from '../words/guard-option-problems.js';
import { guardWishes, type RigGuardOptions } from '../words/guard-options.js';
import {
  type FormOptions,
  filesOf,
  reportColumns,
  reportForm,
  reportText,
  type ShowOptions,
  type ToldReport,
  tellReport,
  untoldShow,
} from '../words/page-form.js';
import { slotPhrase } from '../words/slot-phrase.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { findingTexts, inspectionLines, inspectionResult } from './inspection-lines.js';
import type { StandingRig } from './standing-figure.js';

export interface InspectFlags extends DeskFlags, RigGuardOptions, FormOptions, ShowOptions {
  readonly to: string;
  readonly target: string;
  readonly spareSlots: number;
  readonly quantiser: readonly string[];
}

const loadRig = async (path: string): Promise<Outcome<{ readonly rig: Rig; readonly source: string }>> => {
  const input = await readInput(path);
  if (!input.ok) return input;
  const { source, bytes } = input.value;
  const instead = {
    recipe: 'Whether a recipe still stands: bandwright verify RECIPE --to HOST:PORT.',
  };
  const rig = readRig(bytes, { source, instead });
  return rig.ok ? ok({ rig: rig.value, source }) : rig;
};

/** An inspection for programs: figures for every way of building, what stands in each slot, and why. */
const inspectionJson = (report: InspectReport, target: Target): string => {
  const { purpose, result, title, desk, mixes, leftAlone, assumptions } = report;
  const words = {
    shown: slotPhrase,
    messages: (mix: InspectReport['mixes'][number]) => findingTexts(mix, target),
  };
  const told = {
    purpose,
    result,
    rig: { title },
    target: target.id,
    desk,
    mixes: mixes.map((mix) => inspectionData(mix, words)),
    leftAlone,
    assumptions,
    problems: [],
  };
  return `${JSON.stringify(told, null, 2)}\n`;
};

const codes: Readonly<Record<InspectReport['result'], ExitCode>> = {
  done: exitCodes.done,
  'falls-short': exitCodes.fallsShort,
  interrupted: exitCodes.interrupted,
};

const interrupted = 'Interrupted: nothing was written.';

const contentOf = async (
  report: InspectReport,
  inspected: StandingRig,
  flags: InspectFlags,
  terminal: Terminal,
): Promise<string | null> => {
  const { target } = inspected.desk;
  const form = reportForm(flags);
  if (form === 'json') return inspectionJson(report, target);
  if (report.result === 'interrupted') return null;
  if (form === 'sheet')
    return (await import('./inspection-page.js')).inspectionPage(report, inspected, flags);
  if (form === 'svg') return (await import('./inspection-page.js')).inspectionSvg(report, inspected);
  return reportText(inspectionLines(report, target, reportColumns(flags, terminal)), flags, terminal);
};

/** Reads what stands on the desk, and tells it as it was asked for. */
const inspectDesk = async (
  path: string,
  flags: InspectFlags,
  terminal: Terminal,
): Promise<Outcome<ToldReport>> => {
  const read = await loadRig(path);
  if (!read.ok) return read;
  const desk = await loadDesk(flags.target, flags.quantiser);
  if (!desk.ok) return desk;
  const wrong = rigGuardProblem(flags, read.value.rig, desk.value);
  if (wrong) return fail([wrong]);
  const { rig, source } = read.value;
  const done = await withInterrupts(terminal, (interruption) =>
    inspect({
      ...deskOptions(flags, interruption, terminal),
      rig: { ...rig, guard: { ...rig.guard, ...guardWishes(flags) } },
      source,
      target: desk.value,
      spareSlots: flags.spareSlots ?? 0,
    }),
  );
  if (!done.ok) return done;
  const { result, mixes } = done.value;
  const content = await contentOf(done.value, { rig, desk: desk.value }, flags, terminal);
  // Programs are told the result on the other output too, so that whoever waits sees it.
  const said = result === 'interrupted' ? interrupted : inspectionResult(mixes);
  const isSaid = result === 'interrupted' || reportForm(flags) === 'json';
  if (isSaid) terminal.err(said);
  return ok({
    code: codes[result],
    content,
    verdict: isSaid ? [] : wrap(said, messageColumns(terminal)),
  });
};

/** The work of `bandwright inspect`: reads a rig as it stands on a desk, and writes nothing. */
export const runInspect = async (
  path: string,
  flags: InspectFlags,
  terminal: Terminal,
): Promise<ExitCode> => {
  const stop = (problems: readonly Problem[]) => stopSequence(problems, terminal, flags.json === true);
  const untold = untoldShow(flags, [reportForm(flags)]);
  if (untold) return stop([untold]);
  if (path === '-' && flags.target === '-') {
    return stop([problem('usage', '', 'Rig and target cannot both come from standard input.')]);
  }
  return tellReport(
    {
      options: flags,
      fileName: 'inspect',
      inputs: [path, ...(await filesOf([flags.target], flags.quantiser))],
      work: () => inspectDesk(path, flags, terminal),
      stop,
    },
    terminal,
  );
};
