import { buildSections } from '../../filters/build.js';
import type { FilterType } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { placedFilter } from '../../fitting/placement.js';
import { keepLossDb, pilotAttenuationDb } from '../../guard/guard-figures.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { DeskSlotType } from '../../model/desk.js';
import type { FilterValues } from '../../model/recipe.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { stepsAround } from '../../quantisers/snap.js';
import { type Db, db, type Hz, type Step, step } from '../../units/quantity.js';

/** One bell or notch with its knobs where they stand, and what that comes to in each way the desk may build it. */
export interface PilotSetting {
  readonly type: FilterType;
  readonly set: FilterValues;
  readonly byRealisation: readonly {
    readonly id: string;
    /** The least over the pilot's window. */
    readonly pilotAttenuationDb: Db;
    readonly keepLossDb: Db;
  }[];
  /** What it takes at the pilot in the worst way and in the best. */
  readonly leastDb: Db;
  readonly mostDb: Db;
  /** What it costs the music in the worst way. */
  readonly keepLossDb: Db;
}

/** What a setting is judged by: the scope's `keepLossAtMostDb` is the limit on what it may cost the music. */
export interface ReachTask {
  readonly realisations: readonly Realisation[];
  readonly scope: GuardScope;
}

/** Beyond this many steps a gain knob is looked at in this many places, its stops included. */
const gainsLookedAt = 512;

const gainSteps = (grid: Quantiser): readonly Step[] => {
  const count = Math.min(grid.count, gainsLookedAt);
  return Array.from({ length: count }, (_, i) =>
    step(count === 1 ? 0 : Math.round((i * (grid.count - 1)) / (count - 1))),
  );
};

type WidthKnob = 'q' | 'bandwidth';

const widthKnob = ({ grids }: DeskSlotType): WidthKnob => (grids.q ? 'q' : 'bandwidth');

/** The values of a cut at the steps given; the width is counted from the widest setting, 0, to the narrowest. */
const valuesAt = (cut: DeskSlotType, frequency: Step, narrowing: number, gain: Step | null): FilterValues => {
  const { frequency: frequencies, q, bandwidth, gain: gains } = cut.grids;
  return {
    frequencyHz: frequencies.valueAt(frequency),
    ...(q ? { q: q.valueAt(step(narrowing)) } : {}),
    ...(!q && bandwidth
      ? { bandwidthOctaves: bandwidth.valueAt(step(bandwidth.count - 1 - narrowing)) }
      : {}),
    ...(gains && gain !== null ? { gainDb: gains.valueAt(gain) } : {}),
  } as FilterValues;
};

const widthCount = (cut: DeskSlotType): number => cut.grids[widthKnob(cut)]?.count ?? 1;

/** The same knob positions in every way of building: no way gets a setting of its own. */
const settingAt = (
  { type }: DeskSlotType,
  set: FilterValues,
  { realisations, scope }: ReachTask,
): PilotSetting => {
  const filter = placedFilter(type, set);
  const byRealisation = realisations.map((realisation) => {
    const sections = buildSections(filter, realisation);
    return {
      id: realisation.id,
      pilotAttenuationDb: pilotAttenuationDb(sections, scope),
      keepLossDb: keepLossDb(sections, scope),
    };
  });
  const taken = byRealisation.map((each) => each.pilotAttenuationDb);
  return {
    type,
    set,
    byRealisation,
    leastDb: db(Math.min(...taken)),
    mostDb: db(Math.max(...taken)),
    keepLossDb: db(Math.max(...byRealisation.map((each) => each.keepLossDb))),
  };
};

/**
 * The widest setting that leaves the keep band within its limit in every way of building, for one frequency and gain: a
 * cut takes less everywhere off its own frequency the narrower it is, so both what it takes from the music and what it
 * takes at the pilot fall as it narrows, and bisection finds the turning point. Null where even the narrowest setting
 * costs too much.
 */
const widestWithin = (
  cut: DeskSlotType,
  frequency: Step,
  gain: Step | null,
  { realisations, scope }: ReachTask,
): FilterValues | null => {
  const fits = (narrowing: number): boolean => {
    const filter = placedFilter(cut.type, valuesAt(cut, frequency, narrowing, gain));
    return realisations.every(
      (realisation) => keepLossDb(buildSections(filter, realisation), scope) <= scope.keepLossAtMostDb,
    );
  };
  let tooWide = -1;
  let narrowEnough = widthCount(cut) - 1;
  if (!fits(narrowEnough)) return null;
  while (narrowEnough - tooWide > 1) {
    const middle = Math.floor((tooWide + narrowEnough) / 2);
    if (fits(middle)) narrowEnough = middle;
    else tooWide = middle;
  }
  return valuesAt(cut, frequency, narrowEnough, gain);
};

/** The steps of a grid next to a frequency, and at it. */
const stepsNear = (grid: Quantiser, pilotHz: Hz): readonly Step[] => {
  const { below, at, above } = stepsAround(grid, pilotHz);
  return [below, at, above].filter((each) => each !== null);
};

/** Whichever takes more at the pilot in its worst way; of two that take the same, the one that costs less. */
export const deeper = (a: PilotSetting | null, b: PilotSetting | null): PilotSetting | null => {
  if (!a || !b) return a ?? b;
  if (a.leastDb !== b.leastDb) return b.leastDb > a.leastDb ? b : a;
  return b.keepLossDb < a.keepLossDb ? b : a;
};

/** The setting next to the pilot that takes most there in its worst way, within the limit; null where none keeps it. */
export const bestOf = (cut: DeskSlotType, task: ReachTask): PilotSetting | null => {
  const gains = cut.grids.gain;
  const choices = gains ? gainSteps(gains).filter((each) => gains.valueAt(each) < 0) : [null];
  let best: PilotSetting | null = null;
  for (const frequency of stepsNear(cut.grids.frequency, task.scope.pilotHz)) {
    for (const gain of choices) {
      const set = widestWithin(cut, frequency, gain, task);
      if (set) best = deeper(best, settingAt(cut, set, task));
    }
  }
  return best;
};

/** The narrowest setting at one frequency, turned all the way down; null where the cut has no such step. */
export const narrowestOf = (cut: DeskSlotType, nearestHz: Hz, task: ReachTask): PilotSetting | null => {
  const frequency = stepsNear(cut.grids.frequency, task.scope.pilotHz).find(
    (each) => cut.grids.frequency.valueAt(each) === nearestHz,
  );
  if (frequency === undefined) return null;
  const gain = cut.grids.gain ? step(0) : null;
  return settingAt(cut, valuesAt(cut, frequency, widthCount(cut) - 1, gain), task);
};
