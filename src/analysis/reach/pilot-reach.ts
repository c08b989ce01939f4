import type { FilterType } from '../../filters/filter.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { Desk, DeskSlotType } from '../../model/desk.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { stepsAround } from '../../quantisers/snap.js';
import { type Cents, centsBetween, type Db, type Hz, hz, type Step, step } from '../../units/quantity.js';
import { bestOf, deeper, narrowestOf, type PilotSetting } from './pilot-setting.js';

/** A frequency a bell or notch can be set to, and how far it lies from the pilot. */
export interface NearFrequency {
  readonly frequencyHz: Hz;
  readonly offsetHz: Hz;
  readonly offsetCents: Cents;
  /** The offset as a share of the pilot's frequency. */
  readonly offsetFraction: number;
}

/** A frequency beside the pilot. */
const near = (frequencyHz: Hz, pilotHz: Hz): NearFrequency => ({
  frequencyHz,
  offsetHz: hz(frequencyHz - pilotHz),
  offsetCents: centsBetween(pilotHz, frequencyHz),
  offsetFraction: frequencyHz / pilotHz - 1,
});

/** How near a desk's bells and notches come to a pilot, and what one of them takes there. */
export interface PilotReach {
  readonly pilotHz: Hz;
  readonly windowHz: Hz;
  /** The pilot itself, where the grid has it. */
  readonly at: NearFrequency | null;
  readonly below: NearFrequency | null;
  readonly above: NearFrequency | null;
  /** The one of the three that lies fewest cents away; null where the desk has neither bell nor notch. */
  readonly nearest: NearFrequency | null;
  /** The most that one of them may cost the music. */
  readonly keepLossAtMostDb: Db;
  /** The one setting next to the pilot that takes most there in the worst way of building; null where none may be. */
  readonly best: PilotSetting | null;
  /** The narrowest setting at the nearest frequency, turned all the way down. */
  readonly narrowest: PilotSetting | null;
}

const cutTypes: readonly FilterType[] = ['peaking', 'notch'];

const cutsOf = (desk: Desk): readonly DeskSlotType[] =>
  desk.slots.flatMap(({ types }) => cutTypes.flatMap((type) => types.get(type) ?? []));

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

/**
 * Works out how near a desk's bells and notches come to the pilot, and what one setting takes out over the pilot's window
 * in each way of building, while the music loses no more than the scope's `keepLossAtMostDb`. Pure.
 */
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
  const task = { realisations: desk.target.realisations, scope };
  const deepest = (settings: readonly (PilotSetting | null)[]): PilotSetting | null =>
    settings.reduce<PilotSetting | null>(deeper, null);
  return {
    pilotHz: scope.pilotHz,
    windowHz: scope.windowHz,
    at,
    below,
    above,
    nearest,
    keepLossAtMostDb: scope.keepLossAtMostDb,
    best: deepest(cuts.map((cut) => bestOf(cut, task))),
    narrowest: nearest && deepest(cuts.map((cut) => narrowestOf(cut, nearest.frequencyHz, task))),
  };
};

/** More places than this nobody could tell apart on a picture: they are counted, and not listed. */
const mostListed = 200;

/** Where bells and notches can stand around a pilot, and how far to either side that is. */
export interface PlacesNear {
  readonly reachHz: number;
  /** None where there are too many to tell apart. */
  readonly offsetsHz: readonly number[];
  readonly areTooMany: boolean;
}

/** So many steps of a grid to one side of a frequency. */
const besides = (grid: Quantiser, from: Step | null, way: 1 | -1, count: number): readonly number[] =>
  from === null
    ? []
    : Array.from({ length: count }, (_, index) => from + way * index)
        .filter((index) => index >= 0 && index < grid.count)
        .map((index) => grid.valueAt(step(index)));

/**
 * The frequencies that a desk's bells and notches can take around a pilot, in Hz from it: as far to either side as two of
 * them lie, and beyond the pilot's window in any case. Pure.
 */
export const placesNear = (desk: Desk, { pilotHz, windowHz }: GuardScope): PlacesNear => {
  const around = [...new Set(cutsOf(desk).map(({ grids }) => grids.frequency))].map((grid) => ({
    grid,
    ...stepsAround(grid, pilotHz),
  }));
  const second = (values: readonly number[]): number => {
    const apart = [...new Set(values)].map((value) => Math.abs(value - pilotHz)).sort((a, b) => a - b);
    return apart[1] ?? apart[0] ?? 0;
  };
  const reachHz = Math.max(
    1.4 * windowHz,
    1.08 * second(around.flatMap(({ grid, below }) => besides(grid, below, -1, 2))),
    1.08 * second(around.flatMap(({ grid, above }) => besides(grid, above, 1, 2))),
  );
  const values = around.flatMap(({ grid, below, at, above }) => [
    ...besides(grid, below, -1, mostListed + 1),
    ...(at === null ? [] : [grid.valueAt(at)]),
    ...besides(grid, above, 1, mostListed + 1),
  ]);
  const inside = [...new Set(values.map((value) => value - pilotHz))]
    .filter((offsetHz) => Math.abs(offsetHz) <= reachHz)
    .sort((a, b) => a - b);
  return inside.length > mostListed
    ? { reachHz, offsetsHz: [], areTooMany: true }
    : { reachHz, offsetsHz: inside, areTooMany: false };
};
