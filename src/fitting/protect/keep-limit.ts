import { type Db, db } from '../../units/quantity.js';
import type { Found } from './evaluate.js';
import type { Searched } from './search.js';
import { searchCuts } from './search-cuts.js';
import type { SearchProblem } from './space.js';

/** Looked no further than this for a limit that can be met. */
const mostDb = 60;
const resolutionDb = 0.1;

/** What a search within a limit came to, and the limit, where another than asked had to be taken. */
export interface WithinLimit extends Searched {
  readonly found: Found;
  readonly raisedToDb: Db | null;
}

/**
 * The best setting within the limit asked or, where none keeps it, within the least limit that one does, to a
 * tenth of a dB up. Null where no limit helps, as with a chain that rises whatever is done.
 */
export const searchWithinLimit = (problem: SearchProblem, mostCuts: number): WithinLimit | null => {
  const within = (keepLossAtMostDb: number, cuts: number): Searched =>
    searchCuts({ ...problem, keepLossAtMostDb }, cuts);
  const asked = within(problem.keepLossAtMostDb, mostCuts);
  if (asked.found) return { ...asked, found: asked.found, raisedToDb: null };
  const steps = Math.ceil((mostDb - problem.keepLossAtMostDb) / resolutionDb);
  const limitAt = (index: number): number =>
    Math.round(10 * (problem.keepLossAtMostDb + index * resolutionDb)) / 10;
  let [tooLow, enough] = [0, steps];
  if (!within(limitAt(enough), 1).found) return null;
  while (enough - tooLow > 1) {
    const middle = (tooLow + enough) >> 1;
    if (within(limitAt(middle), 1).found) enough = middle;
    else tooLow = middle;
  }
  const least = within(limitAt(enough), mostCuts);
  return least.found && { ...least, found: least.found, raisedToDb: db(limitAt(enough)) };
};
