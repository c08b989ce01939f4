import type { FilterType } from '../../filters/filter.js';
import type { Desk, DeskSlotType } from '../../model/desk.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { stepsAround } from '../../quantisers/snap.js';
import { type Hz, hz } from '../../units/quantity.js';
import { type NearFrequency, near } from './near-frequency.js';
import { bestOf, deeper, narrowestOf, type PilotCut } from './pilot-cut.js';

export type { NearFrequency } from './near-frequency.js';
export type { PilotCut } from './pilot-cut.js';

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
