import type { Setting } from './band-space.js';
import { type MatchBand, type MatchSpace, sumOf } from './match-space.js';
import type { Response } from './responses.js';
import { equalDb, type Found, type Goal } from './score.js';

/** A setting and those round it: each knob where it is, a stride down and a stride up. */
const roundOf = (
  { space: { ranges }, allows }: MatchBand,
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

const levelsOf = ({ bands }: MatchSpace): number =>
  Math.min(
    mostLevels,
    Math.max(
      0,
      ...bands.flatMap(({ space: { ranges } }) =>
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
  /** The bands that are moved, by their places. */
  readonly bands?: readonly number[];
  /** Whether two bands are moved together, too. */
  readonly inPairs?: boolean;
}

/** Moves bands, one by one and two together, from longer strides to shorter ones, for as long as that betters them. */
export const climb = (space: MatchSpace, start: Found, goal: Goal, effort: Effort = {}): Found => {
  const { bands = space.bands.map((_, band) => band), inPairs = true } = effort;
  const levels = Math.min(effort.levels ?? mostLevels, levelsOf(space));
  let best = start;
  const responseAt = (band: number, setting: Setting): Response =>
    (space.bands[band] as MatchBand).responseAt(setting);
  const without = (bands: readonly number[]): Response =>
    sumOf(
      best.settings.flatMap((setting, band) => (bands.includes(band) ? [] : [responseAt(band, setting)])),
      space,
    );
  const around = (band: number, level: number): readonly Setting[] =>
    roundOf(space.bands[band] as MatchBand, best.settings[band] as Setting, level);
  const plus = (a: Response, b: Response): Response => a.map((takenDb, i) => takenDb + (b[i] as number));

  /** Looks at every way of moving the bands a stride; whether one is nearer. */
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
    bands.map((band) => improve(band, null, level)).some((improved) => improved);
  const improvePairs = (level: number): boolean =>
    bands.some((first) => bands.slice(first + 1).some((second) => improve(first, second, level)));

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
