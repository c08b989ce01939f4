import { buildSections } from '../filters/build.js';
import type { FilterType } from '../filters/filter.js';
import type { Realisation } from '../filters/realisation.js';
import { attenuationDbAt } from '../filters/response.js';
import type { Desk, DeskSlotType } from '../model/desk.js';
import type { BandValues } from '../model/recipe.js';
import { keepLossDb } from '../multiplex/guard-figures.js';
import type { GuardScope } from '../multiplex/guard-scope.js';
import type { Quantiser } from '../quantisers/quantiser.js';
import { stepsAround } from '../quantisers/snap.js';
import { type Cents, centsBetween, type Db, db, type Hz, hz, type Step, step } from '../units/quantity.js';
import { placedFilter } from './placement.js';

/** A frequency a bell or notch can be set to, and how far it lies from the pilot. */
export interface NearFrequency {
  readonly frequencyHz: Hz;
  readonly offsetHz: Hz;
  readonly offsetCents: Cents;
  /** The offset as a share of the pilot's frequency. */
  readonly offsetFraction: number;
}

/** One bell or notch and what it takes, by itself, at the pilot. */
export interface PilotCut {
  readonly type: FilterType;
  readonly set: BandValues;
  readonly attenuationDb: Db;
}

/** What one way of building bells and notches does with the frequencies next to the pilot. */
export interface ReachByRealisation {
  readonly id: string;
  /** The most that can be taken out at the pilot while the keep band loses no more than its limit. */
  readonly best: PilotCut | null;
  /** What the narrowest setting at the nearest frequency, turned all the way down, takes instead. */
  readonly narrowest: PilotCut | null;
}

/** How near a desk's bells and notches come to a pilot, and what that costs. */
export interface PilotReach {
  readonly pilotHz: Hz;
  /** The pilot itself, where the grid has it. */
  readonly at: NearFrequency | null;
  readonly below: NearFrequency | null;
  readonly above: NearFrequency | null;
  /** The one of the three that lies fewest cents away; null where the desk has neither bell nor notch. */
  readonly nearest: NearFrequency | null;
  readonly byRealisation: readonly ReachByRealisation[];
}

const cutTypes: readonly FilterType[] = ['peaking', 'notch'];

const cutsOf = (desk: Desk): readonly DeskSlotType[] =>
  desk.slots.flatMap(({ types }) => cutTypes.flatMap((type) => types.get(type) ?? []));

const near = (frequencyHz: Hz, pilotHz: Hz): NearFrequency => ({
  frequencyHz,
  offsetHz: hz(frequencyHz - pilotHz),
  offsetCents: centsBetween(pilotHz, frequencyHz),
  offsetFraction: frequencyHz / pilotHz - 1,
});

const stepsNear = (grid: Quantiser, pilotHz: Hz): readonly Step[] => {
  const { below, at, above } = stepsAround(grid, pilotHz);
  return [below, at, above].filter((each) => each !== null);
};

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

const deeper = (a: PilotCut | null, b: PilotCut | null): PilotCut | null =>
  a && b ? (b.attenuationDb > a.attenuationDb ? b : a) : (a ?? b);

const bestOf = (cut: DeskSlotType, realisation: Realisation, scope: GuardScope): PilotCut | null => {
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

const narrowestOf = (
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

/** Cuts that can be set alike need looking at once only. */
const distinct = (cuts: readonly DeskSlotType[]): readonly DeskSlotType[] =>
  cuts.filter(
    (cut, i) =>
      cuts.findIndex(
        (other) =>
          other.type === cut.type &&
          other.grids.frequency === cut.grids.frequency &&
          other.grids.q === cut.grids.q &&
          other.grids.bandwidth === cut.grids.bandwidth &&
          other.grids.gain === cut.grids.gain,
      ) === i,
  );

/** Works out how near a desk's bells and notches come to the pilot, and what they take out there. Pure. */
export const pilotReach = (desk: Desk, scope: GuardScope): PilotReach => {
  const cuts = distinct(cutsOf(desk));
  const around = cuts.map(({ grids }) => ({
    grid: grids.frequency,
    ...stepsAround(grids.frequency, scope.pilotHz),
  }));
  const valuesOf = (side: 'below' | 'at' | 'above'): readonly number[] =>
    around.flatMap((found) => (found[side] === null ? [] : [found.grid.valueAt(found[side])]));
  const nearOf = (values: readonly number[], pick: (...values: number[]) => number): NearFrequency | null =>
    values.length === 0 ? null : near(hz(pick(...values)), scope.pilotHz);
  const below = nearOf(valuesOf('below'), Math.max);
  const above = nearOf(valuesOf('above'), Math.min);
  const at = nearOf(valuesOf('at'), Math.min);
  const nearest =
    [at, below, above]
      .filter((each) => each !== null)
      .sort((a, b) => Math.abs(a.offsetCents) - Math.abs(b.offsetCents))[0] ?? null;
  return {
    pilotHz: scope.pilotHz,
    at,
    below,
    above,
    nearest,
    byRealisation: desk.target.realisations.map((realisation) => ({
      id: realisation.id,
      best: cuts.reduce<PilotCut | null>((best, cut) => deeper(best, bestOf(cut, realisation, scope)), null),
      narrowest: nearest
        ? cuts.reduce<PilotCut | null>(
            (best, cut) => deeper(best, narrowestOf(cut, nearest.frequencyHz, realisation, scope)),
            null,
          )
        : null,
    })),
  };
};
