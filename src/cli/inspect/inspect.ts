import { readDocument } from '../../documents/read.js';
import { besideRecipe, needsRecipe } from '../../live/inspect/beside-recipe.js';
import { inspectMix } from '../../live/inspect/inspect-mix.js';
import type { InspectedMix } from '../../live/inspect/inspection.js';
import { inspectionLimits, mixRecipe } from '../../live/inspect/mix-recipe.js';
import { type MixInspection, planInspection } from '../../live/inspect/plan-inspection.js';
import type { SurveyedMix } from '../../live/write/survey.js';
import type { Desk } from '../../model/desk.js';
import { protectiveRoles } from '../../model/intent.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import type { Rig } from '../../model/rig.js';
import { readInput } from '../../node/read-input.js';
import { fitKey, rigOnDeskProblems } from '../../recipes/rig-on-desk.js';
import { fail, ok } from '../../units/result.js';
import type { InspectOptions } from '../check/check-options.js';
import type { DeskPlace } from '../live/open-desk.js';
import { filterPhrase, slotPhrase } from '../live/slot-phrase.js';
import { surveyDesk } from '../live/survey-desk.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { guardWishes } from '../words/guard-options.js';
import { loadDesk } from '../words/load-desk.js';
import { rigGuardProblem } from '../words/rig-guard-problem.js';
import { stopOn } from '../words/run-command.js';
import type { Terminal } from '../words/terminal.js';
import { inspectionJson } from './inspection-json.js';
import { type Inspected, inspectionLines, inspectionResult } from './inspection-lines.js';
import { inspectionNotes } from './inspection-notes.js';

interface RigOnDesk {
  readonly rig: Rig;
  readonly desk: Desk;
  readonly inspections: readonly MixInspection[];
}

const readRig = async (path: string): Promise<Outcome<{ readonly rig: Rig; readonly source: string }>> => {
  const input = await readInput(path);
  if (!input.ok) return input;
  const { source, bytes } = input.value;
  const document = await readDocument(bytes, { source });
  if (!document.ok) return document;
  if (document.value.format === 'bandwright-rig/1') return ok({ rig: document.value, source });
  const told =
    document.value.format === 'bandwright-recipe/1'
      ? 'This is a recipe; a rig is needed. Whether a recipe still stands: bandwright verify RECIPE --to HOST:PORT.'
      : `This is a ${document.value.format} file; a rig is needed.`;
  return fail([{ ...problem('format-unexpected', 'format', told), source }]);
};

/** Reads the rig, loads the desk, and settles what is to be read; nothing is sent yet. */
const planFor = async (path: string, options: InspectOptions): Promise<Outcome<RigOnDesk>> => {
  if (path === '-' && options.target === '-')
    return fail([problem('usage', '', 'Rig and target cannot both come from standard input.')]);
  const read = await readRig(path);
  if (!read.ok) return read;
  const desk = await loadDesk(options.target, options.quantiser);
  if (!desk.ok) return desk;
  const { source } = read.value;
  const wrong = rigGuardProblem(options, read.value.rig, desk.value);
  if (wrong) return fail([wrong]);
  const rig: Rig = { ...read.value.rig, guard: { ...read.value.rig.guard, ...guardWishes(options) } };
  const misfits = rigOnDeskProblems(rig, desk.value);
  const plan = misfits.length > 0 ? fail(misfits) : planInspection(rig, desk.value);
  if (!plan.ok) return fail(plan.error.map((each) => ({ source, ...each })));
  return ok({ rig, desk: desk.value, inspections: plan.value });
};

interface InspectedRig {
  readonly mixes: readonly InspectedMix[];
  /** What recipes that were made to compare with took for granted. */
  readonly assumptions: readonly Problem[];
}

/** Judges every mix by the limits its recipe would be made within, and makes that where anything is to be advised. */
const inspectAll = (
  surveyed: readonly SurveyedMix[],
  { rig, desk, inspections }: RigOnDesk,
  { spareSlots = 0 }: InspectOptions,
  terminal: Terminal,
): InspectedRig => {
  const roles = protectiveRoles.filter((role) => !rig.leaveOut?.includes(role));
  const read = inspections.flatMap(({ mix, system }, index) => {
    const found = surveyed[index];
    if (!found) return [];
    const context = { ...inspectionLimits(system, rig, desk), roles };
    return [{ mix, found, inspected: inspectMix(found, desk, context) }];
  });
  const kinds = new Map(
    read.flatMap(({ mix, inspected }) => (needsRecipe(inspected) ? [[fitKey(mix), mix] as const] : [])),
  );
  if (kinds.size > 0)
    terminal.progress(`Fitting the rig on ${desk.target.id}, to tell what would do better ...`);
  const recipes = new Map([...kinds].map(([kind, mix]) => [kind, mixRecipe(mix, rig, desk, spareSlots)]));
  if (kinds.size > 0) terminal.progress(null);
  return {
    mixes: read.map(({ mix, found, inspected }) => {
      const made = recipes.get(fitKey(mix));
      return made ? besideRecipe(inspected, found, made.recipe, desk) : inspected;
    }),
    assumptions: [...recipes.values()].flatMap(({ assumptions }) => assumptions),
  };
};

/** Each once: several recipes take the same for granted. */
const distinct = (notes: readonly Problem[]): readonly Problem[] =>
  notes.filter((note, index) => notes.findIndex(({ message }) => message === note.message) === index);

const tell = (
  surveyed: readonly SurveyedMix[],
  found: RigOnDesk,
  where: { readonly place: DeskPlace | null; readonly destination: string },
  options: InspectOptions,
  terminal: Terminal,
): ExitCode => {
  const { rig, desk } = found;
  const { mixes, assumptions } = inspectAll(surveyed, found, options, terminal);
  const inspected: Inspected = {
    title: rig.title,
    destination: where.destination,
    mixes,
    leftAlone: rig.mixes.flatMap(({ name, outputs, feeds }) => {
      const link = rig.systems[feeds]?.link;
      return link === undefined || link === 'fm-stereo' ? [] : [{ name, outputs, link }];
    }),
    assumptions: distinct([...inspectionNotes(rig, desk), ...assumptions]),
    ways: desk.target.realisations.length,
    shown: (mix, output, slot) => {
      const standing = surveyed[mixes.indexOf(mix)]?.slots.find(
        ({ plan }) => plan.output === output && plan.slot.id === slot,
      );
      return standing ? slotPhrase(standing.plan, standing.found, desk) : '';
    },
    phrase: (placed) => filterPhrase(placed, desk),
  };
  if (options.json) {
    terminal.out(inspectionJson(inspected, surveyed, where.place, desk));
    terminal.err(inspectionResult(mixes));
  } else {
    const columns = Math.max(60, Math.min(terminal.columns, 100));
    terminal.out(`${inspectionLines(inspected, columns).join('\n')}\n`);
  }
  return mixes.every(({ state }) => state === 'safe') ? exitCodes.done : exitCodes.fallsShort;
};

/** The work of `bandwright check RIG --to HOST:PORT`: reads a rig as it stands on a desk, and writes nothing. */
export const runInspect = async (
  path: string,
  options: InspectOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const json = options.json === true;
  const stop = (outcome: { readonly error: Parameters<typeof stopOn>[0] }) =>
    stopOn(outcome.error, terminal, json);
  const found = await planFor(path, options);
  if (!found.ok) return stop(found);
  const { desk, inspections } = found.value;
  if (inspections.length === 0) {
    return tell([], found.value, { place: null, destination: 'the desk' }, options, terminal);
  }
  const plans = inspections.map(({ plan }) => plan);
  const surveyed = await surveyDesk(plans, desk, options, terminal);
  if (!surveyed.ok) return surveyed.error;
  const { mixes, place, destination } = surveyed.value;
  return tell(mixes, found.value, { place, destination }, options, terminal);
};
