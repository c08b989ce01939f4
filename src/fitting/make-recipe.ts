import type { Desk, DeskSlot } from '../model/desk.js';
import type { IntentsDocument } from '../model/intent.js';
import { pathTo } from '../model/path.js';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import { protectionNotes, protectiveIntents, usualPilotHz } from '../model/protection.js';
import type { Recipe, RecipeMix } from '../model/recipe.js';
import type { FmStereoSystem, Link, Mix, Rig } from '../model/rig.js';
import { type GuardChoices, type GuardScope, guardScope } from '../multiplex/guard-scope.js';
import { usualPreEmphasesMicroseconds } from '../multiplex/pre-emphasis.js';
import { fail, ok } from '../units/result.js';
import type { Fit } from './fit.js';
import { makeGuard } from './make-guard.js';
import { pilotCost } from './pilot-cost.js';
import { rigOnDeskProblems } from './rig-on-desk.js';
import { tellShortcoming } from './tell-shortcoming.js';

const untouched: Readonly<Record<'digital' | 'wired', string>> = {
  digital: 'a digital link carries no pilot tone, so there is nothing to guard',
  wired: 'a wired feed carries no pilot tone, so there is nothing to guard',
};

const scopeOf = (system: FmStereoSystem, rig: Rig): GuardScope => {
  const known = system.preEmphasisMicroseconds;
  const choices: GuardChoices = {
    ...rig.guard,
    ...(known === undefined ? {} : { preEmphasisMicroseconds: known }),
  };
  return guardScope(system.pilotHz ?? usualPilotHz, choices);
};

const freeSlots = (mix: Mix, desk: Desk): readonly DeskSlot[] =>
  mix.freeSlots === undefined ? desk.slots : desk.slots.filter(({ id }) => mix.freeSlots?.includes(id));

const preEmphasisNote = (id: string): Problem =>
  problem(
    'pre-emphasis-unknown',
    pathTo(pathTo('systems', id), 'preEmphasisMicroseconds'),
    `Not given: figures are worked out for ${usualPreEmphasesMicroseconds.join(' and ')} microseconds and the worst is judged by. State it to narrow this.`,
  );

const slotsNote = problem(
  'slots-assumed-free',
  'mixes',
  'Mixes that do not list freeSlots: every slot of theirs is taken to be free. List freeSlots where bands are in use.',
);

const evidenceNote = ({ target }: Desk): readonly Problem[] =>
  Object.values(target.evidence).every((state) => state === 'tested')
    ? []
    : [
        problem(
          'target-unproved',
          'target.evidence',
          `Tried on the real desk: grid ${target.evidence.grid}, response ${target.evidence.response}, push ${target.evidence.push}. Compare what the desk shows with this recipe before you trust it.`,
        ),
      ];

interface FittedMix {
  readonly mix: RecipeMix;
  readonly problems: readonly Problem[];
}

const protectMix = (
  mix: Mix,
  path: string,
  system: FmStereoSystem,
  rig: Rig,
  desk: Desk,
  fit: Fit,
): FittedMix => {
  const scope = scopeOf(system, rig);
  const { realisations } = desk.target;
  const { bands, shortcomings } = fit.fit(protectiveIntents(system, rig), {
    desk,
    slots: freeSlots(mix, desk),
    scope,
    spareSlots: 0,
  });
  return {
    mix: {
      name: mix.name,
      outputs: mix.outputs,
      system: mix.feeds,
      link: system.link,
      treatment: 'protect',
      reason: 'an FM stereo link carries a pilot tone that treble can upset',
      bands,
      guard: makeGuard(bands, realisations, scope),
    },
    problems: shortcomings.map((each) =>
      tellShortcoming(each, path, pilotCost(each, bands, realisations, scope)),
    ),
  };
};

const leaveAlone = (mix: Mix, link: Exclude<Link, 'fm-stereo'>): FittedMix => ({
  mix: {
    name: mix.name,
    outputs: mix.outputs,
    system: mix.feeds,
    link,
    treatment: 'leave-alone',
    reason: untouched[link],
    bands: [],
    guard: null,
  },
  problems: [],
});

const targetOf = ({ target }: Desk): Recipe['target'] => ({
  id: target.id,
  title: target.title,
  stereo: target.outputs.stereo,
  evidence: target.evidence,
});

/**
 * Fits a rig on a desk: every mix that feeds an FM stereo link gets its protective filters, every other mix
 * is listed as left alone. Pure: the same rig and desk give the same recipe.
 * Fails where the rig asks for outputs or slots the desk does not have.
 */
export const makeRecipe = (rig: Rig, desk: Desk, fit: Fit): Outcome<Recipe> => {
  const misfits = rigOnDeskProblems(rig, desk);
  if (misfits.length > 0) return fail(misfits);

  const fitted = rig.mixes.map((mix, index): FittedMix => {
    const system = rig.systems[mix.feeds];
    if (!system) throw new RangeError(`mix ${index} feeds no system of the rig`);
    return system.link === 'fm-stereo'
      ? protectMix(mix, `mixes[${index}]`, system, rig, desk, fit)
      : leaveAlone(mix, system.link);
  });

  const guarded = Object.entries(rig.systems).flatMap(([id, system]) =>
    system.link === 'fm-stereo' && rig.mixes.some(({ feeds }) => feeds === id) ? [{ id, system }] : [],
  );
  const assumptions = guarded.flatMap(({ id, system }) => [
    ...protectionNotes(id, system, rig),
    ...(system.preEmphasisMicroseconds === undefined ? [preEmphasisNote(id)] : []),
  ]);
  const someOpen = rig.mixes.some(
    ({ feeds, freeSlots }) => freeSlots === undefined && rig.systems[feeds]?.link === 'fm-stereo',
  );
  return ok({
    format: 'bandwright-recipe/1',
    rig: { title: rig.title },
    target: targetOf(desk),
    fit: fit.name,
    assumptions: [...assumptions, ...(someOpen ? [slotsNote] : []), ...evidenceNote(desk)],
    mixes: fitted.map(({ mix }) => mix),
    problems: fitted.flatMap(({ problems }) => problems),
  });
};

/** Fits an intents file on a desk, for the outputs named or for none in particular. No pilot is guarded. */
export const makeIntentsRecipe = (
  document: IntentsDocument,
  desk: Desk,
  fit: Fit,
  outputs: readonly number[] = [],
): Outcome<Recipe> => {
  const tooHigh = outputs.find((output) => output > desk.target.outputs.count);
  if (tooHigh !== undefined) {
    return fail([
      problem('output-unknown', 'outputs', `Output ${tooHigh}: this desk has ${desk.target.outputs.count}.`),
    ]);
  }
  const { bands, shortcomings } = fit.fit(document.intents, {
    desk,
    slots: desk.slots,
    scope: null,
    spareSlots: 0,
  });
  return ok({
    format: 'bandwright-recipe/1',
    rig: { title: document.title },
    target: targetOf(desk),
    fit: fit.name,
    assumptions: [slotsNote, ...evidenceNote(desk)],
    mixes: [
      {
        name: document.title,
        outputs,
        system: null,
        link: null,
        treatment: 'as-asked',
        reason: 'filters asked for by an intents file',
        bands,
        guard: null,
      },
    ],
    problems: shortcomings.map((each) => tellShortcoming(each, 'mixes[0]', null)),
  });
};
