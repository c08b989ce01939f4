import type { Setting } from './filter-space.js';
import { type MatchSpace, type SearchedFilter, sumOf } from './match-space.js';
import type { Response } from './responses.js';
import { equalDb, type Found, type Goal } from './score.js';

/** A setting and those round it: each knob where it is, a stride down and a stride up. */
const roundOf = (
  { space: { ranges }, allows }: SearchedFilter,
  centre: Setting,
  level: number,
): readonly Setting[] =>
  ranges
    .reduce<readonly Setting[]>(
      (settings, { from, to }, knob) => {
        const at = centre[knob] as number;
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
export interface Effort {
  /** Strides no shorter than this many halvings of a range. */
  readonly levels?: number;
  /** The filters that are moved, by their places. */
  readonly filters?: readonly number[];
  /** Whether two filters are moved together, too. */
  readonly inPairs?: boolean;
}

/** Moves filters, one by one and two together, from longer strides to shorter ones, for as long as that betters them. */
export const climb = (space: MatchSpace, start: Found, goal: Goal, effort: Effort = {}): Found => {
  const { filters = space.filters.map((_, placed) => placed), inPairs = true } = effort;
  const levels = Math.min(effort.levels ?? mostLevels, levelsOf(space));
  let best = start;
  const responseAt = (placed: number, setting: Setting): Response =>
    (space.filters[placed] as SearchedFilter).responseAt(setting);
  const without = (filters: readonly number[]): Response =>
    sumOf(
      best.settings.flatMap((setting, placed) =>
        filters.includes(placed) ? [] : [responseAt(placed, setting)],
      ),
      space,
    );
  const around = (placed: number, level: number): readonly Setting[] =>
    roundOf(space.filters[placed] as SearchedFilter, best.settings[placed] as Setting, level);
  const plus = (a: Response, b: Response): Response => a.map((takenDb, i) => takenDb + (b[i] as number));

  /** Looks at every way of moving the filters a stride; whether one is nearer. */
  const improve = (first: number, second: number | null, level: number): boolean => {
    const before = best;
    const rest = without(second === null ? [first] : [first, second]);
    const [firsts, seconds] = [around(first, level), second === null ? [] : around(second, level)];
    const settings = [...best.settings];
    const look = (base: Response, response: Response): void => {
      const score = space.score(base, response, goal.atMostDb(best) + equalDb);
      if (score && goal.isBetter(score, best)) best = { ...score, settings: [...settings] };
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
