import { roundingDb } from '../../guard/guard-figures.js';
import { itemAt, numberAt } from '../../units/at.js';
import { type FilterSpace, type Setting, settingCount } from './filter-space.js';
import { type MatchProblem, type MatchSpace, matchSpace, scored } from './match-space.js';
import { mostKept, type Response } from './responses.js';
import { type Aim, leastSquares, leastWorst, passes, type Scored, shownDb } from './score.js';
import { allSeatings } from './seating.js';

/** A way of giving out the slots, and the best found for it. */
export interface Matched {
  readonly space: MatchSpace;
  readonly found: Scored;
}

/** Combinations that are all looked at in about a second. */
const mostCombinations = 100_000;

/**
 * Every way of giving out the slots, as nearest does first; null where there are too many combinations of slots and
 * settings to look at each.
 */
export const allSpaces = (problem: MatchProblem, nearest: MatchSpace): readonly MatchSpace[] | null => {
  const spaces: MatchSpace[] = [];
  const settings = new Map<string, number>();
  let combinations = 0;
  for (const seating of allSeatings(problem.seats)) {
    const isNearest = seating.join() === nearest.seating.join();
    const space = isNearest ? nearest : matchSpace(problem, seating);
    for (const { index, space: of } of space.filters) {
      const key = `${index} ${seating[index]}`;
      settings.set(key, Math.max(settings.get(key) ?? 0, settingCount(of)));
    }
    combinations += space.filters.reduce((product, placed) => product * settingCount(placed.space), 1);
    const held = [...settings.values()].reduce((sum, count) => sum + count, 0);
    if (combinations > mostCombinations || held > mostKept) return null;
    spaces.push(space);
  }
  return [nearest, ...spaces.filter((space) => space !== nearest)];
};

/** Every setting of a filter, the last knob turning fastest. */
const settingsOf = ({ ranges }: FilterSpace): readonly Setting[] =>
  ranges.reduce<readonly Setting[]>(
    (settings, { from, to }) =>
      settings.flatMap((setting) =>
        Array.from({ length: to - from + 1 }, (_, index) => [...setting, from + index]),
      ),
    [[]],
  );

const bestOfAll = (space: MatchSpace, start: Scored, aim: Aim): Scored => {
  const { filters, fixed } = space;
  const choices = filters.map((placed) => settingsOf(placed.space).filter(placed.allows));
  const last = filters.length - 1;
  const chosen: Setting[] = [];
  let best = start;
  const descend = (placed: number, before: Response): void => {
    for (const setting of choices[placed] ?? []) {
      chosen[placed] = setting;
      const response = itemAt(filters, placed).responseAt(setting);
      if (placed < last) {
        descend(
          placed + 1,
          before.map((takenDb, i) => takenDb + numberAt(response, i)),
        );
        continue;
      }
      const score = space.score(before, response, aim.atMostDb(best) + roundingDb);
      if (score && aim.isBetter(score, best)) best = { ...score, settings: [...chosen] };
    }
  };
  descend(0, fixed);
  return best;
};

/** What nearest would have for a way of giving out the slots. */
export const startOf = (space: MatchSpace): Scored =>
  scored(
    space.filters.map((placed) => placed.space.start),
    space,
  );

/**
 * The best of all there is: every setting of every filter, for every way of giving out the slots. The first of these
 * stays where no other comes to less than it by what is shown.
 */
export const searchAll = (spaces: readonly MatchSpace[]): Matched => {
  let best: Matched | null = null;
  for (const space of spaces) {
    const found = bestOfAll(space, startOf(space), leastWorst);
    if (!best || shownDb(found) < shownDb(best.found)) best = { space, found };
  }
  if (!best) throw new RangeError('there is no way to give out the slots');
  const { space, found } = best;
  const aim = leastSquares(found);
  const start = startOf(space);
  return { space, found: bestOfAll(space, passes(start, aim) ? start : found, aim) };
};
