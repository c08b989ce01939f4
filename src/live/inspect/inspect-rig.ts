import { guardTask } from '../../fitting/guard-task.js';
import { protect } from '../../fitting/protect/protect.js';
import type { Desk } from '../../model/desk.js';
import { protectiveRoles } from '../../model/intent.js';
import { type Problem, problem } from '../../model/problem.js';
import { protectionNotes, protectiveIntents } from '../../model/protection.js';
import type { FmStereoSystem, Link, Mix, Rig } from '../../model/rig.js';
import { makeRecipe } from '../../recipes/make-recipe.js';
import { encoderNote, pilotLimitNote, preEmphasisNotes } from '../../recipes/notes.js';
import { fitKey, guardedSystems, systemScope } from '../../recipes/rig-on-desk.js';
import type { SurveyedMix } from '../write/survey.js';
import { besideRecipe, needsRecipe } from './beside-recipe.js';
import { inspectMix } from './inspect-mix.js';
import type { InspectedMix, InspectionContext, MixRecipe } from './inspection.js';
import type { MixInspection } from './plan-inspection.js';

/** The limits a recipe would be made within, which hang on the filters asked for and on the desk. */
const inspectionLimits = (
  system: FmStereoSystem,
  rig: Rig,
  { target }: Desk,
): Pick<InspectionContext, 'scope' | 'keepLossAsAskedDb'> => {
  const intents = protectiveIntents(system, rig);
  const { scope, lossLimits } = guardTask(intents, target.realisations, systemScope(system, rig.guard));
  return { scope, keepLossAsAskedDb: scope.isKeepLossStated ? null : lossLimits.usualDb };
};

/** What an inspection need not repeat of a recipe's assumptions: it tells the others itself. */
const recipesOwn: readonly string[] = ['slots-assumed-free', 'not-proved'];

/** The recipe of one mix of a rig that fits the desk, just as `bandwright recipe` makes it. */
const mixRecipe = (
  mix: Mix,
  rig: Rig,
  desk: Desk,
  spareSlots: number,
): { readonly recipe: MixRecipe; readonly assumptions: readonly Problem[] } => {
  const made = makeRecipe({ ...rig, mixes: [mix] }, desk, { fit: protect, spareSlots });
  const fitted = made.ok ? made.value.mixes[0] : undefined;
  if (!made.ok || !fitted) throw new RangeError('a mix that was inspected does not fit its desk');
  const { assumptions } = made.value;
  const { filters, missing } = fitted;
  const free = desk.slots.filter(({ id }) => mix.freeSlots?.includes(id) ?? true);
  const cuts = filters.filter(({ role }) => /^pilot-cut(-\d+)?$/.test(role)).length;
  return {
    recipe: {
      filters,
      missing,
      isProved: !assumptions.some(({ code }) => code === 'not-proved'),
      // Where it does not even use those it may, one more is no help.
      hasSpareSlot:
        cuts > spareSlots &&
        free.some(
          ({ id, types }) =>
            !filters.some(({ slot }) => slot === id) && (types.has('peaking') || types.has('notch')),
        ),
      areSlotsListed: mix.freeSlots !== undefined,
      hasOtherSlots: free.length < desk.slots.length,
    },
    assumptions: assumptions.filter(({ code }) => recipesOwn.includes(code)),
  };
};

const switchesNote = problem(
  'slots-assumed-on',
  'osc.addresses.on',
  'OSC does not reach the switches of the slots: every slot is taken to be on.',
);

const legsNote = problem(
  'legs-assumed-alike',
  'outputs.stereo',
  'The legs of a pair share their filters on this target: only the first was read.',
);

const evidenceNote = ({ grid, response }: Desk['target']['evidence']): Problem =>
  problem(
    'target-unproved',
    'target.evidence',
    `Tried on the real desk: grid ${grid}, response ${response}. Compare a slot or two with the desk's display before you trust this.`,
  );

/** What neither rig nor target told, and what was taken instead. */
const inspectionNotes = (rig: Rig, { target }: Desk): readonly Problem[] => {
  const guarded = guardedSystems(rig);
  if (guarded.length === 0) return [];
  const { grid, response } = target.evidence;
  const hasPair = rig.mixes.some(
    ({ feeds, outputs }) => outputs.length > 1 && guarded.some(({ id }) => id === feeds),
  );
  return [
    ...guarded.flatMap(({ id, system }) => [
      ...protectionNotes(id, system, rig).filter(({ code }) => code === 'pilot-assumed'),
      ...preEmphasisNotes(id, system, rig.guard),
      ...(system.encoderLowpassHz === undefined ? [encoderNote(id)] : []),
    ]),
    ...(rig.guard?.pilotAttenuationAtLeastDb === undefined ? [pilotLimitNote] : []),
    ...(target.osc?.addresses.on === undefined ? [switchesNote] : []),
    ...(hasPair && target.outputs.stereo === 'legs-share' ? [legsNote] : []),
    ...(grid === 'tested' && response === 'tested' ? [] : [evidenceNote(target.evidence)]),
  ];
};

/** A mix that was not addressed. */
export interface LeftAlone {
  readonly name: string;
  readonly outputs: readonly number[];
  readonly link: Link;
}

/** Everything there is to tell of a rig as it stands. */
export interface InspectedRig {
  readonly title: string;
  readonly mixes: readonly InspectedMix[];
  readonly leftAlone: readonly LeftAlone[];
  /** What was taken for granted, each once. */
  readonly assumptions: readonly Problem[];
}

const distinct = (notes: readonly Problem[]): readonly Problem[] =>
  notes.filter((note, index) => notes.findIndex(({ message }) => message === note.message) === index);

/** What an inspection is about: a rig on a desk, and what was planned to be read of it. */
export interface RigInspection {
  readonly rig: Rig;
  readonly desk: Desk;
  readonly inspections: readonly MixInspection[];
  /** How many slots a mix's recipe may spend on further cuts near the pilot. */
  readonly spareSlots: number;
}

/** How the recipes to compare with are made, which may take a while. */
export interface Fitting {
  /** Told before and after. */
  onFitting(isFitting: boolean): void;
  /** Waited for before each recipe, so that whoever interrupts is heard. */
  pause(): Promise<void>;
  readonly signal: AbortSignal;
}

/**
 * Judges every mix that was read by the limits its recipe would be made within, and makes that recipe where anything is
 * to be advised. Null where it was interrupted.
 */
export const inspectRig = async (
  surveyed: readonly SurveyedMix[],
  { rig, desk, inspections, spareSlots }: RigInspection,
  { onFitting, pause, signal }: Fitting,
): Promise<InspectedRig | null> => {
  const roles = protectiveRoles.filter((role) => !rig.leaveOut?.includes(role));
  const read = inspections.flatMap(({ mix, plan, system }) => {
    const found = surveyed.find((each) => each.plan === plan);
    if (!found) return [];
    const context = { ...inspectionLimits(system, rig, desk), roles };
    return [{ mix, found, inspected: inspectMix(found, desk, context) }];
  });
  const kinds = new Map(
    read.flatMap(({ mix, inspected }) => (needsRecipe(inspected) ? [[fitKey(mix), mix] as const] : [])),
  );
  if (kinds.size > 0) onFitting(true);
  const recipes = new Map<string, ReturnType<typeof mixRecipe>>();
  for (const [kind, mix] of kinds) {
    await pause();
    if (signal.aborted) break;
    recipes.set(kind, mixRecipe(mix, rig, desk, spareSlots));
  }
  if (kinds.size > 0) {
    await pause();
    onFitting(false);
  }
  if (signal.aborted) return null;
  const fitted = [...recipes.values()].flatMap(({ assumptions }) => assumptions);
  return {
    title: rig.title,
    mixes: read.map(({ mix, found, inspected }) => {
      const made = recipes.get(fitKey(mix));
      return made ? besideRecipe(inspected, found, made.recipe, desk) : inspected;
    }),
    leftAlone: rig.mixes.flatMap(({ name, outputs, feeds }) => {
      const link = rig.systems[feeds]?.link;
      return link === undefined || link === 'fm-stereo' ? [] : [{ name, outputs, link }];
    }),
    assumptions: distinct([...inspectionNotes(rig, desk), ...fitted]),
  };
};
