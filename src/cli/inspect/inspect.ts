import { readRig } from '../../documents/read.js';
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
import { slotPhrase } from '../words/slot-phrase.js';
import { pageColumns, type Terminal } from '../words/terminal.js';
import { colouredVerdicts } from '../words/verdict-colours.js';
import { findingTexts, inspectionLines, inspectionResult } from './inspection-lines.js';

export interface InspectFlags extends DeskFlags, RigGuardOptions {
  readonly to: string;
  readonly target: string;
  readonly spareSlots: number;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
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

const tell = (report: InspectReport, target: Target, json: boolean, terminal: Terminal): ExitCode => {
  const { result, mixes } = report;
  if (json) terminal.out(inspectionJson(report, target));
  if (result === 'interrupted') {
    terminal.err('Interrupted: nothing was written.');
  } else if (json) {
    terminal.err(inspectionResult(mixes));
  } else {
    const lines = inspectionLines(report, target, pageColumns(terminal));
    terminal.out(`${colouredVerdicts(lines, terminal).join('\n')}\n`);
  }
  return codes[result];
};

/** The work of `bandwright inspect`: reads a rig as it stands on a desk, and writes nothing. */
export const runInspect = async (
  path: string,
  flags: InspectFlags,
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = flags.json === true;
  const stop = ({ error }: { readonly error: readonly Problem[] }) => stopSequence(error, terminal, json);
  if (path === '-' && flags.target === '-') {
    return stop(fail([problem('usage', '', 'Rig and target cannot both come from standard input.')]));
  }
  const read = await loadRig(path);
  if (!read.ok) return stop(read);
  const desk = await loadDesk(flags.target, flags.quantiser);
  if (!desk.ok) return stop(desk);
  const wrong = rigGuardProblem(flags, read.value.rig, desk.value);
  if (wrong) return stop(fail([wrong]));
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
  return done.ok ? tell(done.value, desk.value.target, json, terminal) : stop(done);
};
