import type { Fit, FitOutcome, Shortcoming } from '../fitting/fit.js';
import { guardTask } from '../fitting/guard-task.js';
import type { GuardScope } from '../guard/guard-scope.js';
import { overDeviatingLineUps } from '../guard/over-deviation.js';
import type { Desk, DeskSlot } from '../model/desk.js';
import type { Outcome, Problem } from '../model/problem.js';
import { protectionNotes, protectiveIntents } from '../model/protection.js';
import type { Guard, PlacedFilter, Recipe, RecipeMix } from '../model/recipe.js';
import type { FmStereoSystem, GuardWishes, Link, Mix, Rig } from '../model/rig.js';
import { fail, ok } from '../units/result.js';
import { makeGuard } from './make-guard.js';
import {
  encoderNote,
  evidenceNote,
  lineUpNote,
  otherSlotsNote,
  overDeviationNote,
  pairsNotes,
  pilotLimitNote,
  preEmphasisNotes,
  programmeNote,
  recipeTarget,
  slotsNote,
  unprovedNote,
} from './notes.js';
import { ownFilterProblems } from './own-filters.js';
import { fitKey, guardedSystems, rigOnDeskProblems, systemScope } from './rig-on-desk.js';
import { missingOf, pilotCost, tellShortcoming } from './tell-shortcoming.js';

const untouched: Readonly<Record<'digital' | 'wired', string>> = {
  digital: 'a digital link carries no pilot tone, so there is nothing to guard',
  wired: 'a wired feed carries no pilot tone, so there is nothing to guard',
};

const freeSlots = (mix: Mix, desk: Desk): readonly DeskSlot[] =>
  mix.freeSlots === undefined ? desk.slots : desk.slots.filter(({ id }) => mix.freeSlots?.includes(id));

/** How a recipe is to be made. */
export interface RecipeOptions {
  readonly fit: Fit;
  /** How many slots more than the intents need may be spent on further cuts near the pilot. */
  readonly spareSlots: number;
  /** What the guard is to hold, where it is to be other than the rig asks. */
  readonly guard?: GuardWishes;
}

interface FittedMix {
  readonly mix: RecipeMix;
  readonly problems: readonly Problem[];
  readonly unproved?: FitOutcome['unproved'];
}

/** What a fit comes to on a set of slots; mixes that feed the same system from the same slots share it. */
interface Protection extends Pick<FitOutcome, 'filters' | 'shortcomings' | 'unproved'> {
  readonly scope: GuardScope;
  readonly guard: Guard;
  readonly nearest: RecipeMix['nearest'];
  readonly alternative: RecipeMix['alternative'];
}

/**
 * Whether a shortcoming is worth telling: a filter that was derived accepts what serves as well, another type or a knob
 * that ends before its usual depth, where the guard is met.
 */
const matters = (shortcoming: Shortcoming, { verdict }: Guard): boolean =>
  verdict !== 'met' ||
  !shortcoming.intent.mayMove ||
  (shortcoming.kind !== 'substitute' && shortcoming.kind !== 'beyond-range');

const protection = (
  mix: Mix,
  system: FmStereoSystem,
  rig: Rig,
  desk: Desk,
  options: RecipeOptions,
): Protection => {
  const { realisations } = desk.target;
  const intents = protectiveIntents(system, rig);
  const task = guardTask(intents, realisations, systemScope(system, rig.guard));
  const context = { desk, slots: freeSlots(mix, desk), guard: task, spareSlots: options.spareSlots };
  const { filters, shortcomings, unproved, alternative } = options.fit.fit(intents, context);
  const plain = options.fit.comparedWith?.fit(intents, context) ?? null;
  const guardOf = (made: readonly PlacedFilter[]): Guard => makeGuard(made, realisations, task);
  const guard = guardOf(filters);
  return {
    filters,
    shortcomings: shortcomings.filter((each) => matters(each, guard)),
    ...(unproved ? { unproved } : {}),
    scope: task.scope,
    guard,
    nearest: plain && { filters: plain.filters, worst: guardOf(plain.filters).worst },
    alternative: alternative ? { ...alternative, worst: guardOf(alternative.filters).worst } : null,
  };
};

const protectMix = (
  mix: Mix,
  path: string,
  { link, audioHighHz }: FmStereoSystem,
  desk: Desk,
  fitted: Protection,
): FittedMix => ({
  mix: {
    name: mix.name,
    outputs: mix.outputs,
    system: mix.feeds,
    link,
    audioHighHz,
    ...(mix.freeSlots === undefined ? {} : { freeSlots: mix.freeSlots }),
    treatment: 'protect',
    reason: 'an FM stereo link carries a pilot tone that treble can upset',
    filters: fitted.filters,
    guard: fitted.guard,
    nearest: fitted.nearest,
    alternative: fitted.alternative,
    missing: missingOf(fitted.shortcomings),
  },
  problems: [
    ...fitted.shortcomings.map((each) =>
      tellShortcoming(each, path, pilotCost(each, fitted.filters, desk.target.realisations, fitted.scope)),
    ),
    ...ownFilterProblems(fitted.filters, desk.target.realisations, fitted.scope, fitted.guard, path),
  ],
  ...(fitted.unproved ? { unproved: fitted.unproved } : {}),
});

const leaveAlone = (mix: Mix, link: Exclude<Link, 'fm-stereo'>): FittedMix => ({
  mix: {
    name: mix.name,
    outputs: mix.outputs,
    system: mix.feeds,
    link,
    treatment: 'leave-alone',
    reason: untouched[link],
    filters: [],
    guard: null,
    nearest: null,
    alternative: null,
    missing: [],
  },
  problems: [],
});

/**
 * Fits a rig on a desk: every mix that feeds an FM stereo link gets its protective filters, every other mix
 * is listed as left alone. Pure: the same rig and desk give the same recipe.
 * Fails where the rig asks for outputs or slots the desk does not have.
 */
export const makeRecipe = (written: Rig, desk: Desk, options: RecipeOptions): Outcome<Recipe> => {
  const rig: Rig = { ...written, guard: { ...written.guard, ...options.guard } };
  const misfits = rigOnDeskProblems(rig, desk);
  if (misfits.length > 0) return fail(misfits);

  const protections = new Map<string, Protection>();
  const protectionOf = (mix: Mix, system: FmStereoSystem): Protection => {
    const key = fitKey(mix);
    const made = protections.get(key) ?? protection(mix, system, rig, desk, options);
    protections.set(key, made);
    return made;
  };
  const fitted = rig.mixes.map((mix, index): FittedMix => {
    const system = rig.systems[mix.feeds];
    if (!system) throw new RangeError(`mix ${index} feeds no system of the rig`);
    return system.link === 'fm-stereo'
      ? protectMix(mix, `mixes[${index}]`, system, desk, protectionOf(mix, system))
      : leaveAlone(mix, system.link);
  });

  const guarded = guardedSystems(rig);
  const assumptions = guarded.flatMap(({ id, system }) => [
    ...protectionNotes(id, system, rig),
    ...preEmphasisNotes(id, system, rig.guard),
    ...(system.lineUpDbfs === undefined ? [lineUpNote(id)] : []),
    ...overDeviationNote(id, overDeviatingLineUps(systemScope(system, rig.guard))),
    ...(system.encoderLowpassHz === undefined ? [encoderNote(id)] : []),
  ]);
  const touched = rig.mixes.filter(({ feeds }) => rig.systems[feeds]?.link === 'fm-stereo');
  const someOpen = touched.some(({ freeSlots }) => freeSlots === undefined);
  return ok({
    format: 'bandwright-recipe/1',
    rig: { title: rig.title },
    target: recipeTarget(desk),
    fit: options.fit.name,
    assumptions: [
      ...assumptions,
      ...(guarded.length > 0 ? [programmeNote] : []),
      ...(guarded.length > 0 && rig.guard?.pilotAttenuationAtLeastDb === undefined ? [pilotLimitNote] : []),
      ...(someOpen ? [slotsNote] : []),
      ...(guarded.length > 0 ? [otherSlotsNote] : []),
      ...pairsNotes(touched, desk),
      ...unprovedNote(fitted.flatMap(({ unproved }) => unproved ?? [])),
      ...evidenceNote(desk),
    ],
    mixes: fitted.map(({ mix }) => mix),
    problems: fitted.flatMap(({ problems }) => problems),
  });
};
