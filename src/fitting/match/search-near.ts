import { roundingDb } from '../../guard/guard-figures.js';
import { itemAt, numberAt } from '../../units/at.js';
import type { Setting } from './filter-space.js';
import {
  type MatchProblem,
  type MatchSpace,
  matchSpace,
  responseOf,
  type SearchedFilter,
  scored,
  sumOf,
} from './match-space.js';
import type { Response } from './responses.js';
import { type Aim, leastSquares, leastWorst, passes, type Scored, shownDb, worstPointOf } from './score.js';
import { type Matched, startOf } from './search-all.js';
import { seatingsNear } from './seating.js';

/** A setting and those round it: each knob where it is, a stride down and a stride up. */
const roundOf = (
  { space: { ranges }, allows }: SearchedFilter,
  centre: Setting,
  level: number,
): readonly Setting[] =>
  ranges
    .reduce<readonly Setting[]>(
      (settings, { from, to }, knob) => {
        const at = itemAt(centre, knob);
        const stride = Math.max(1, Math.floor((to - from) / 2 ** level));
        const steps = [...new Set([at, Math.max(from, at - stride), Math.min(to, at + stride)])];
        return settings.flatMap((setting) => steps.map((index) => [...setting, index]));
      },
      [[]],
    )
    .filter(allows);

/** Halvings of a knob's range down to a single step; a finer knob is turned in strides of so many. */
const mostLevels = 20;

const levelsOf = ({ filters }: MatchSpace): number =>
  Math.min(
    mostLevels,
    Math.max(
      0,
      ...filters.flatMap(({ space: { ranges } }) =>
        ranges.map(({ from, to }) => Math.ceil(Math.log2(to - from + 1))),
      ),
    ),
  );

/** Strides go from half a knob's range down to one step, so often at most. */
const mostSweeps = 8;

/** How much of a climb is done; all of it unless told. */
interface Effort {
  /** Strides no shorter than this many halvings of a range. */
  readonly levels?: number;
  /** The filters that are moved, by their places. */
  readonly filters?: readonly number[];
  /** Whether two filters are moved together, too. */
  readonly inPairs?: boolean;
}

/** Moves filters, one by one and two together, from longer strides to shorter ones, for as long as that betters them. */
const climb = (space: MatchSpace, start: Scored, aim: Aim, effort: Effort = {}): Scored => {
  const { filters = space.filters.map((_, placed) => placed), inPairs = true } = effort;
  const levels = Math.min(effort.levels ?? mostLevels, levelsOf(space));
  let best = start;
  const responseAt = (placed: number, setting: Setting): Response =>
    itemAt(space.filters, placed).responseAt(setting);
  const without = (filters: readonly number[]): Response =>
    sumOf(
      best.settings.flatMap((setting, placed) =>
        filters.includes(placed) ? [] : [responseAt(placed, setting)],
      ),
      space,
    );
  const around = (placed: number, level: number): readonly Setting[] =>
    roundOf(itemAt(space.filters, placed), itemAt(best.settings, placed), level);
  const plus = (a: Response, b: Response): Response => a.map((takenDb, i) => takenDb + numberAt(b, i));

  /** Looks at every way of moving the filters a stride; whether one is nearer. */
  const improve = (first: number, second: number | null, level: number): boolean => {
    const before = best;
    const rest = without(second === null ? [first] : [first, second]);
    const [firsts, seconds] = [around(first, level), second === null ? [] : around(second, level)];
    const settings = [...best.settings];
    const look = (base: Response, response: Response): void => {
      const score = space.score(base, response, aim.atMostDb(best) + roundingDb);
      if (score && aim.isBetter(score, best)) best = { ...score, settings: [...settings] };
    };
    for (const setting of firsts) {
      settings[first] = setting;
      if (second === null) {
        look(rest, responseAt(first, setting));
        continue;
      }
      const base = plus(rest, responseAt(first, setting));
      for (const other of seconds) {
        settings[second] = other;
        look(base, responseAt(second, other));
      }
    }
    return best !== before;
  };

  const improveSingles = (level: number): boolean =>
    filters.map((placed) => improve(placed, null, level)).some((improved) => improved);
  const improvePairs = (level: number): boolean =>
    filters.some((first) => filters.slice(first + 1).some((second) => improve(first, second, level)));

  for (let sweep = 0; sweep < mostSweeps; sweep++) {
    const before = best;
    for (let level = 1; level <= levels; level++) {
      do while (improveSingles(level));
      while (inPairs && improvePairs(level));
    }
    if (best === before) break;
  }
  return best;
};

/** Settings carried over to another way of giving out the slots; those that are not open there begin as nearest has them. */
const carriedOver = ({ space, found }: Matched, to: MatchSpace): Scored =>
  scored(
    to.filters.map((placed) => {
      const { index, space: own } = placed;
      const before = space.filters.findIndex((each) => each.index === index);
      const setting = found.settings[before];
      const isOpen =
        setting !== undefined &&
        space.filters[before]?.space.slotType === own.slotType &&
        own.ranges.every(({ from, to: end }, knob) => {
          const at = itemAt(setting, knob);
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
  const aim = leastSquares(found);
  const start = startOf(space);
  return { space, found: climb(space, passes(start, aim) ? start : found, aim) };
};
