import {
  bellAttenuationDb,
  distanceFromCentre,
  hasClosedForm,
  realisedBell,
} from '../../filters/bell-attenuation.js';
import { buildSections } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { attenuationDbAt } from '../../filters/response.js';
import { hz } from '../../units/quantity.js';
import type { Box } from './box.js';
import { filterAt } from './lattice.js';

/** Where a realisation is looked at for bounds: some points of the pilot's window, and the end of the keep band. */
export interface BoundPoints {
  readonly realisation: Realisation;
  readonly windowHz: readonly number[];
  readonly keepHighHz: number;
}

/** What no cut of a box exceeds at the window's points, and what each takes at the keep band's end at least. */
export interface BoxBounds {
  readonly inWindowDb: readonly (readonly number[])[];
  readonly atKeepEndDb: readonly number[];
}

type Extent = Omit<Box, 'bounds'>;

interface RealisationBounds {
  readonly window: readonly number[];
  readonly keepEnd: number;
}

const exact = (filter: Filter, { realisation, windowHz, keepHighHz }: BoundPoints): RealisationBounds => {
  const sections = buildSections(filter, realisation);
  return {
    window: windowHz.map((atHz) => attenuationDbAt(sections, hz(atHz))),
    keepEnd: attenuationDbAt(sections, hz(keepHighHz)),
  };
};

/**
 * From a box's corners alone. Attenuation falls with distance from the centre and rises with width and depth
 * (see `bell-attenuation.ts`), so nothing in the box takes more at a point than the widest, deepest bell at
 * whichever frequency between the box's ends comes nearest to the point, and nothing takes less than the
 * narrowest, shallowest bell at whichever end lies farthest.
 *
 * A width in octaves turns into a Q that depends on the frequency too (the cookbook's digital formula), and
 * steadily so; the wider, or narrower, of the Qs at both ends keeps the bound.
 */
const fromCorners = (
  { lattice, f, w, g }: Extent,
  { realisation, windowHz, keepHighHz }: BoundPoints,
): RealisationBounds => {
  const ends = f[0] === f[1] ? [f[0]] : [f[0], f[1]];
  const most = ends.map((end) => realisedBell(filterAt(lattice, end, w[0], g[1]), realisation));
  const least = ends.map((end) => realisedBell(filterAt(lattice, end, w[1], g[0]), realisation));
  const [bottomHz, topHz] = f.map((end) => lattice.frequenciesHz[end] as number) as [number, number];
  const farthest = Math.max(
    distanceFromCentre(keepHighHz, bottomHz, realisation),
    distanceFromCentre(keepHighHz, topHz, realisation),
  );
  return {
    window: windowHz.map((atHz) => {
      const nearestHz = Math.min(Math.max(atHz, bottomHz), topHz);
      const distance = distanceFromCentre(atHz, nearestHz, realisation);
      return Math.max(...most.map((bell) => bellAttenuationDb(bell, distance)));
    }),
    keepEnd: Math.min(...least.map((bell) => bellAttenuationDb(bell, farthest))),
  };
};

/** Boxes of at most this many cuts are bounded by working out every one of them. */
const mostWorkedOut = 64;

const sizeOf = ({ f, w, g }: Extent): number => (f[1] - f[0] + 1) * (w[1] - w[0] + 1) * (g[1] - g[0] + 1);

/** From the bounds of a box's halves, down to single cuts; nothing is known of a box too large for that. */
const fromHalves = (box: Extent, r: number, { windowHz }: BoundPoints): RealisationBounds =>
  sizeOf(box) > mostWorkedOut
    ? { window: windowHz.map(() => Number.POSITIVE_INFINITY), keepEnd: Number.NEGATIVE_INFINITY }
    : {
        window: windowHz.map((_, p) =>
          Math.max(...box.halves().map(({ bounds }) => bounds.inWindowDb[r]?.[p] ?? 0)),
        ),
        keepEnd: Math.min(...box.halves().map(({ bounds }) => bounds.atKeepEndDb[r] ?? 0)),
      };

/** Bounds over a whole box, for every realisation. Those of a single cut are what it really takes. */
export const boxBounds = (box: Extent, points: readonly BoundPoints[]): BoxBounds => {
  const single = sizeOf(box) === 1 ? filterAt(box.lattice, box.f[0], box.w[0], box.g[0]) : null;
  const each = points.map((at, r) => {
    if (single) return exact(single, at);
    return hasClosedForm(at.realisation) ? fromCorners(box, at) : fromHalves(box, r, at);
  });
  return { inWindowDb: each.map(({ window }) => window), atKeepEndDb: each.map(({ keepEnd }) => keepEnd) };
};
