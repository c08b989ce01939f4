import type { BandSpace, Setting } from './band-space.js';
import { type MatchSpace, sumOf } from './match-space.js';
import type { Response, Responses } from './responses.js';
import { equalDb, type Found, type Goal, leastSquares, leastWorst, passes } from './score.js';

/** A setting and those round it: each knob where it is, a stride down and a stride up. */
const roundOf = ({ ranges }: BandSpace, centre: Setting, level: number): readonly Setting[] =>
  ranges.reduce<readonly Setting[]>(
    (settings, { from, to }, knob) => {
      const at = centre[knob] as number;
      const stride = Math.max(1, Math.floor((to - from) / 2 ** level));
      const steps = [...new Set([at, Math.max(from, at - stride), Math.min(to, at + stride)])];
      return settings.flatMap((setting) => steps.map((index) => [...setting, index]));
    },
    [[]],
  );

/** Halvings of a knob's range down to a single step; a finer knob is turned in strides of so many. */
const mostLevels = 20;

const levelsOf = (bands: readonly BandSpace[]): number =>
  Math.min(
    mostLevels,
    Math.max(
      0,
      ...bands.flatMap(({ ranges }) => ranges.map(({ from, to }) => Math.ceil(Math.log2(to - from + 1)))),
    ),
  );

/** Strides go from half a knob's range down to one step, so often at most. */
const mostSweeps = 8;

const climb = (space: MatchSpace, start: Found, goal: Goal): Found => {
  let best = start;
  const responseAt = (band: number, setting: Setting): Response =>
    (space.responses[band] as Responses)(setting);
  const without = (bands: readonly number[]): Response =>
    sumOf(
      best.settings.flatMap((setting, band) => (bands.includes(band) ? [] : [responseAt(band, setting)])),
      space,
    );
  const around = (band: number, level: number): readonly Setting[] =>
    roundOf(space.bands[band] as BandSpace, best.settings[band] as Setting, level);
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

  const bands = space.bands.map((_, band) => band);
  const improveSingles = (level: number): boolean =>
    bands.map((band) => improve(band, null, level)).some((improved) => improved);
  const improvePairs = (level: number): boolean =>
    bands.some((first) => bands.slice(first + 1).some((second) => improve(first, second, level)));

  for (let sweep = 0; sweep < mostSweeps; sweep++) {
    const before = best;
    for (let level = 1; level <= levelsOf(space.bands); level++) {
      do while (improveSingles(level));
      while (improvePairs(level));
    }
    if (best === before) break;
  }
  return best;
};

/**
 * A setting that nothing near improves: no band by itself and no two bands together, each knob a stride down, a
 * stride up or where it is, for strides from half the range to one step. It need not be the nearest of all.
 */
export const searchNear = (space: MatchSpace, start: Found): Found => {
  const nearest = climb(space, start, leastWorst);
  const goal = leastSquares(nearest.worstDb);
  return climb(space, passes(start, goal) ? start : nearest, goal);
};
