import type { Found } from './evaluate.js';
import { besideOthers, everywhere, type KeepRule } from './limits.js';
import type { Attempt, LineUp } from './line-ups.js';
import { attenuationsOf, pointsOf } from './points.js';
import type { Searched } from './search.js';
import { canBeKept, searchCuts } from './search-cuts.js';
import { equalDb, isBetter } from './solution.js';
import type { SearchProblem } from './space.js';

/** What a search within a limit came to. */
export interface WithinLimit extends Searched {
  readonly found: Found;
  /** How the limit asked had to be stretched; null where it is kept. */
  readonly stretched: StretchedLimit | null;
}

export interface StretchedLimit {
  /** The most the filters that stay as they are take by themselves, where that is more than asked. */
  readonly othersDb: number | null;
  /** The limit the moving filters were held to. */
  readonly heldToDb: number;
  /** The least limit that could be met, to a tenth up; null where none up to 60 dB can. */
  readonly leastDb: number | null;
}

/** All of a search but what is chosen from, the limit, and how many cuts. */
export type Surroundings = Omit<SearchProblem, keyof LineUp | 'keepRule'>;

/** Looked no further than this for a limit that can be met. */
const mostDb = 60;

/** The least of the tenths of a dB above `askedDb` that will do; null where none will. What does, does with more. */
const leastTenth = (askedDb: number, willDo: (limitDb: number) => boolean): number | null => {
  const first = Math.floor(10 * askedDb + 1e-6) + 1;
  let [least, end] = [first, 10 * mostDb];
  if (!willDo(end / 10)) return null;
  while (least < end) {
    const middle = (least + end) >> 1;
    if (willDo(middle / 10)) end = middle;
    else least = middle + 1;
  }
  return least / 10;
};

const mostTakenBy = ({ fixed, realisations, scope }: Surroundings): number => {
  const points = realisations.map((realisation) => pointsOf(realisation, scope));
  const keepBands = attenuationsOf(fixed, points).map((takenDb, r) =>
    takenDb.subarray(points[r]?.keepFrom, points[r]?.riseFrom),
  );
  return Math.max(...keepBands.map((takenDb) => Math.max(...takenDb)));
};

/**
 * The best setting of any of an attempt's line-ups within the limit asked or, where none keeps it and the attempt may
 * lose more, within the least limit that one does, to a tenth of a dB up. Null where there is none.
 */
export const searchWithinLimit = (
  { lineUps, mayLoseMore }: Attempt,
  around: Surroundings,
  mostCuts: number,
): WithinLimit | null => {
  const askedDb = around.scope.keepLossAtMostDb;
  const best = (keepRule: KeepRule): Searched =>
    lineUps
      .map((lineUp) => searchCuts({ ...around, ...lineUp, keepRule }, mostCuts))
      .reduce((a, b) => ({
        found: a.found && (!b.found || !isBetter(b.found, a.found)) ? a.found : b.found,
        openDb: Math.max(a.openDb, b.openDb),
      }));
  const canKeep = (keepRule: KeepRule): boolean =>
    lineUps.some((lineUp) => canBeKept({ ...around, ...lineUp, keepRule }, mostCuts));

  const mostOfOthersDb = mostTakenBy(around);
  const othersDb = mostOfOthersDb > askedDb + equalDb ? mostOfOthersDb : null;
  const leastDb = () => leastTenth(askedDb, (limitDb) => canKeep(everywhere(limitDb)));

  const kept = best(everywhere(askedDb));
  if (kept.found) return { ...kept, found: kept.found, stretched: null };
  const asked = othersDb === null ? kept : best(besideOthers(askedDb, askedDb));
  if (asked.found) {
    const stretched = othersDb === null ? null : { othersDb, heldToDb: askedDb, leastDb: leastDb() };
    return { ...asked, found: asked.found, stretched };
  }
  const heldToDb = mayLoseMore
    ? leastTenth(askedDb, (limitDb) => canKeep(besideOthers(askedDb, limitDb)))
    : null;
  if (heldToDb === null) return null;
  const more = best(besideOthers(askedDb, heldToDb));
  if (!more.found) return null;
  const stretched = { othersDb, heldToDb, leastDb: othersDb === null ? heldToDb : leastDb() };
  return { ...more, found: more.found, stretched };
};
