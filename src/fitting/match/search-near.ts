import { climb, type Effort } from './climb.js';
import { type MatchProblem, type MatchSpace, matchSpace, responseOf, scored } from './match-space.js';
import { type Found, leastSquares, leastWorst, passes, shownDb, worstPointOf } from './score.js';
import { type Matched, startOf } from './search-all.js';
import { seatingsNear } from './seating.js';

/** Settings carried over to another way of giving out the slots; those that are not open there begin as nearest has them. */
const carriedOver = ({ space, found }: Matched, to: MatchSpace): Found =>
  scored(
    to.filters.map((placed) => {
      const { index, space: own } = placed;
      const before = space.filters.findIndex((each) => each.index === index);
      const setting = found.settings[before];
      const isOpen =
        setting !== undefined &&
        space.filters[before]?.space.slotType === own.slotType &&
        own.ranges.every(({ from, to: end }, knob) => {
          const at = setting[knob] as number;
          return from <= at && at <= end;
        }) &&
        placed.allows(setting);
      return isOpen ? setting : own.start;
    }),
    to,
  );

/** Ways of giving out the slots are compared by strides no shorter than a 32nd of a knob's range. */
const rough = { levels: 5 } as const satisfies Effort;

/** Of those that look best when only the filters concerned are moved, so many are looked at more closely. */
const mostCloserLooks = 3;

/** The places of the filters that another way of giving out the slots moves, or lets make up for something else. */
const concerned = ({ filters }: MatchSpace, before: MatchSpace): readonly number[] =>
  filters.flatMap((placed, place) => (before.filters.includes(placed) ? [] : [place]));

/** Of the intents with the most say where the difference is greatest, so many are given slots otherwise. */
const mostMoved = 2;

/** The intents that ask for most where the difference is greatest. */
const askingMost = ({ seats, askedDb, asks }: MatchProblem, { space, found }: Matched): readonly number[] => {
  const point = worstPointOf(responseOf(found.settings, space), askedDb);
  const asksDb = (index: number): number => Math.abs(asks[index]?.[point] ?? 0);
  return seats.intents
    .map((_, index) => index)
    .sort((a, b) => asksDb(b) - asksDb(a))
    .slice(0, mostMoved);
};

/** A better way of giving out the slots, one move away; null where none was found. */
const betterSeating = (problem: MatchProblem, best: Matched): Matched | null => {
  const hopeful = askingMost(problem, best)
    .flatMap((index) => seatingsNear(problem.seats, best.space.seating, index))
    .map((seating): Matched => {
      const space = matchSpace(problem, seating);
      const effort = { ...rough, filters: concerned(space, best.space), inPairs: false };
      return { space, found: climb(space, carriedOver(best, space), leastWorst, effort) };
    })
    .sort((a, b) => a.found.worstDb - b.found.worstDb)
    .slice(0, mostCloserLooks);
  for (const { space, found } of hopeful) {
    const closer = climb(space, found, leastWorst, rough);
    if (shownDb(closer) < shownDb(best.found)) return { space, found: closer };
  }
  return null;
};

/**
 * A setting that nothing near improves: no filter by itself and no two filters together, each knob a stride down, a
 * stride up or where it is, for strides from half the range to one step; nor, as far as was looked, giving one slot
 * out otherwise. It need not be the nearest of all, but is never farther off than nearest's.
 */
export const searchNear = (problem: MatchProblem, nearest: MatchSpace): Matched => {
  const first: Matched = { space: nearest, found: climb(nearest, startOf(nearest), leastWorst, rough) };
  let last = first;
  for (let better = betterSeating(problem, last); better; better = betterSeating(problem, last))
    last = better;
  const [ended = first, ...others] = (last === first ? [first] : [first, last]).map(
    ({ space, found }): Matched => ({ space, found: climb(space, found, leastWorst) }),
  );
  const { space, found } = others.find((other) => shownDb(other.found) < shownDb(ended.found)) ?? ended;
  const goal = leastSquares(found);
  const start = startOf(space);
  return { space, found: climb(space, passes(start, goal) ? start : found, goal) };
};
