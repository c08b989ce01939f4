import { buildSections } from '../../filters/build.js';
import type { FilterType } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { attenuationDbAt } from '../../filters/response.js';
import type { DeskSlotType } from '../../model/desk.js';
import type { BandValues } from '../../model/recipe.js';
import { keepLossDb } from '../../multiplex/guard-figures.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { type Db, db, type Hz, type Step, step } from '../../units/quantity.js';
import { placedFilter } from '../placement.js';
import { stepsNear } from './near-frequency.js';

/** One bell or notch and what it takes, by itself, at the pilot. */
export interface PilotCut {
  readonly type: FilterType;
  readonly set: BandValues;
  readonly attenuationDb: Db;
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
const valuesAt = (cut: DeskSlotType, frequency: Step, narrowing: number, gain: Step | null): BandValues => {
  const { frequency: frequencies, q, bandwidth, gain: gains } = cut.grids;
  return {
    frequencyHz: frequencies.valueAt(frequency),
    ...(q ? { q: q.valueAt(step(narrowing)) } : {}),
    ...(!q && bandwidth
      ? { bandwidthOctaves: bandwidth.valueAt(step(bandwidth.count - 1 - narrowing)) }
      : {}),
    ...(gains && gain !== null ? { gainDb: gains.valueAt(gain) } : {}),
  } as BandValues;
};

const widthCount = (cut: DeskSlotType): number => cut.grids[widthKnob(cut)]?.count ?? 1;

const cutAt = (type: FilterType, set: BandValues, realisation: Realisation, scope: GuardScope): PilotCut => ({
  type,
  set,
  attenuationDb: db(attenuationDbAt(buildSections(placedFilter(type, set), realisation), scope.pilotHz)),
});

/**
 * The widest setting that leaves the keep band within its limit, for one frequency and gain: a cut takes
 * less everywhere off its own frequency the narrower it is, so both what it takes from the music and what it
 * takes at the pilot fall as it narrows, and bisection finds the turning point. Null where even the
 * narrowest setting costs too much.
 */
const widestWithin = (
  cut: DeskSlotType,
  frequency: Step,
  gain: Step | null,
  realisation: Realisation,
  scope: GuardScope,
): BandValues | null => {
  const fits = (narrowing: number): boolean => {
    const filter = placedFilter(cut.type, valuesAt(cut, frequency, narrowing, gain));
    return keepLossDb(buildSections(filter, realisation), scope) <= scope.keepLossAtMostDb;
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

/** Whichever takes more at the pilot. */
export const deeper = (a: PilotCut | null, b: PilotCut | null): PilotCut | null =>
  a && b ? (b.attenuationDb > a.attenuationDb ? b : a) : (a ?? b);

/** The setting next to the pilot that takes most there within the keep limit; null where none keeps it. */
export const bestOf = (cut: DeskSlotType, realisation: Realisation, scope: GuardScope): PilotCut | null => {
  const gains = cut.grids.gain;
  const choices = gains ? gainSteps(gains).filter((each) => gains.valueAt(each) < 0) : [null];
  let best: PilotCut | null = null;
  for (const frequency of stepsNear(cut.grids.frequency, scope.pilotHz)) {
    for (const gain of choices) {
      const set = widestWithin(cut, frequency, gain, realisation, scope);
      if (set) best = deeper(best, cutAt(cut.type, set, realisation, scope));
    }
  }
  return best;
};

/** The narrowest setting at one frequency, turned all the way down; null where the cut has no such step. */
export const narrowestOf = (
  cut: DeskSlotType,
  nearestHz: Hz,
  realisation: Realisation,
  scope: GuardScope,
): PilotCut | null => {
  const frequency = stepsNear(cut.grids.frequency, scope.pilotHz).find(
    (each) => cut.grids.frequency.valueAt(each) === nearestHz,
  );
  if (frequency === undefined) return null;
  const gain = cut.grids.gain ? step(0) : null;
  return cutAt(cut.type, valuesAt(cut, frequency, widthCount(cut) - 1, gain), realisation, scope);
};
