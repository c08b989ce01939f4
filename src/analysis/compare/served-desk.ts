import { roundingDb } from '../../guard/guard-figures.js';
import type { Desk } from '../../model/desk.js';
import type { Guard, PlacedFilter, Recipe, RecipeMix } from '../../model/recipe.js';
import type { Mix, Rig } from '../../model/rig.js';
import { fitKey, rigOnDeskProblems } from '../../recipes/rig-on-desk.js';
import { db } from '../../units/quantity.js';
import type { Dials, MissingOnMixes, NamedTarget, ServedDesk, UnfitDesk } from './compared-desk.js';

/** The mixes of a rig that are fitted alike: one of them stands for all. */
export interface RigPart {
  /** The rig with that one mix and no other. */
  readonly rig: Rig;
  /** How many mixes it stands for. */
  readonly mixCount: number;
}

/** A rig's mixes with a pilot, by what sets their fits apart: the system they feed and the slots that are free. */
export const rigParts = (rig: Rig): readonly RigPart[] => {
  const alike = new Map<string, Mix[]>();
  for (const mix of rig.mixes) {
    if (rig.systems[mix.feeds]?.link !== 'fm-stereo') continue;
    const key = fitKey(mix);
    alike.set(key, [...(alike.get(key) ?? []), mix]);
  }
  return [...alike.values()].map((mixes) => {
    // A pair may have to be dialled twice, a single output never: where there is a pair, it is the one.
    const [first] = [...mixes].sort((a, b) => b.outputs.length - a.outputs.length);
    return { rig: { ...rig, mixes: first ? [first] : [] }, mixCount: mixes.length };
  });
};

/** The recipe of one part of a rig, and how many mixes it stands for. */
export interface PartRecipe {
  readonly recipe: Recipe;
  readonly mixCount: number;
}

interface GuardedMix extends Pick<RecipeMix, 'filters' | 'missing' | 'outputs'> {
  readonly guard: Guard;
  readonly mixCount: number;
}

const guardedMixes = (parts: readonly PartRecipe[]): readonly GuardedMix[] =>
  parts.flatMap(({ recipe, mixCount }) =>
    recipe.mixes.flatMap(({ filters, missing, outputs, guard }) =>
      guard ? [{ filters, missing, outputs, guard, mixCount }] : [],
    ),
  );

/** Where the knobs of some filters stand: what makes two settings the same to a person. */
const settingOf = (filters: readonly PlacedFilter[]): string =>
  JSON.stringify(
    filters.map(({ slot, type, steps }) => [
      slot,
      type,
      Object.entries(steps).map(([knob, { index }]) => [knob, index]),
    ]),
  );

const knobsOf = (filters: readonly PlacedFilter[]): number =>
  filters.flatMap(({ steps }) => Object.values(steps)).filter((position) => position.of > 1).length;

const dialsOf = (mixes: readonly GuardedMix[], parts: readonly PartRecipe[]): Dials => {
  const settings = new Map(mixes.map(({ filters }) => [settingOf(filters), knobsOf(filters)]));
  const isApart = parts.some(({ recipe }) => recipe.target.stereo === 'legs-separate');
  return {
    knobs: [...settings.values()].reduce((sum, each) => sum + each, 0),
    settings: settings.size,
    legsApart: isApart && mixes.some(({ outputs }) => outputs.length > 1),
  };
};

const missingOf = (mixes: readonly GuardedMix[]): readonly MissingOnMixes[] => {
  const found = new Map<string, MissingOnMixes>();
  for (const { missing, mixCount } of mixes) {
    for (const each of missing) {
      const key = JSON.stringify([each.role, each.type, each.why]);
      found.set(key, { ...each, mixCount: mixCount + (found.get(key)?.mixCount ?? 0) });
    }
  }
  return [...found.values()];
};

const toldAsMissing: ReadonlySet<string> = new Set(['no-place', 'left-out']);

const otherwiseCount = (parts: readonly PartRecipe[]): number =>
  new Set(
    parts.flatMap(({ recipe }) =>
      recipe.problems.filter(({ code }) => !toldAsMissing.has(code)).map(({ message }) => message),
    ),
  ).size;

const missDb = (differences: readonly number[]): number => {
  const most = Math.max(0, ...differences);
  return most > roundingDb ? most : 0;
};

const shortOf = (mixes: readonly GuardedMix[]): ServedDesk['short'] => ({
  pilotDb: missDb(
    mixes.map(({ guard: { limits, worst } }) => limits.pilotAttenuationAtLeastDb - worst.pilotAttenuationDb),
  ),
  lossDb: missDb(mixes.map(({ guard: { limits, worst } }) => worst.keepLossDb - limits.keepLossAtMostDb)),
  riseDb: missDb(mixes.map(({ guard: { limits, worst } }) => worst.riseDb - limits.riseAtMostDb)),
});

/** What the mix takes at its pilot that has least to spare over what it asks, or falls short most. */
const tightestPilot = (mixes: readonly GuardedMix[]): ServedDesk['pilot'] =>
  mixes
    .map(({ guard: { limits, worst } }) => ({
      attenuationDb: worst.pilotAttenuationDb,
      askedDb: limits.pilotAttenuationAtLeastDb,
    }))
    .sort((a, b) => a.attenuationDb - a.askedDb - (b.attenuationDb - b.askedDb))[0] ?? null;

const verdictOf = (mixes: readonly GuardedMix[]): ServedDesk['verdict'] => {
  if (mixes.length === 0) return 'nothing-to-guard';
  return mixes.every(({ guard }) => guard.verdict === 'met') ? 'met' : 'falls-short';
};

/** How a desk serves a rig, from the recipes of the rig's parts on it. Pure. */
export const servedDesk = ({ name, target }: NamedTarget, parts: readonly PartRecipe[]): ServedDesk => {
  const mixes = guardedMixes(parts);
  const losses = mixes.map(({ guard }) => guard.worst.keepLossDb);
  const open = parts.flatMap(({ recipe }) => recipe.assumptions.filter(({ code }) => code === 'not-proved'));
  return {
    name,
    id: target.id,
    title: target.title,
    fits: true,
    verdict: verdictOf(mixes),
    guardedMixCount: mixes.reduce((sum, { mixCount }) => sum + mixCount, 0),
    pilot: tightestPilot(mixes),
    keepLossDb: losses.length === 0 ? null : db(Math.max(...losses)),
    short: shortOf(mixes),
    dials: dialsOf(mixes, parts),
    missing: missingOf(mixes),
    otherwiseCount: otherwiseCount(parts),
    wayCount: target.realisations.length,
    evidence: target.evidence,
    notProved: open.length === 0 ? null : [...new Set(open.map(({ message }) => message))].join(' '),
  };
};

/** What keeps a rig off a desk; null where it fits. */
export const unfitDesk = (name: string, desk: Desk, rig: Rig): UnfitDesk | null => {
  const problems = rigOnDeskProblems(rig, desk);
  if (problems.length === 0) return null;
  const { id, title, outputs } = desk.target;
  const highestUsed = Math.max(0, ...rig.mixes.flatMap((mix) => mix.outputs));
  const known = new Set(desk.slots.map((slot) => slot.id));
  const named = new Set(rig.mixes.flatMap(({ freeSlots = [] }) => freeSlots));
  return {
    name,
    id,
    title,
    fits: false,
    outputs: highestUsed > outputs.count ? { count: outputs.count, highestUsed } : null,
    slotsUnknown: [...named].filter((slot) => !known.has(slot)),
    problems,
  };
};
