import { type BandSpace, type Setting, settingCount } from './band-space.js';
import type { MatchSpace } from './match-space.js';
import type { Response, Responses } from './responses.js';
import { equalDb, type Found, type Goal, leastSquares, leastWorst, passes } from './score.js';

/** Combinations that are all looked at in about a second, and settings whose responses fit in memory. */
const mostCombinations = 100_000;
const mostSettings = 4096;

/** Whether there are few enough settings to look at every one. */
export const canSearchAll = ({ bands }: MatchSpace): boolean => {
  const counts = bands.map(settingCount);
  return (
    counts.reduce((sum, count) => sum + count, 0) <= mostSettings &&
    counts.reduce((product, count) => product * count, 1) <= mostCombinations
  );
};

/** Every setting of a band, the last knob turning fastest. */
const settingsOf = ({ ranges }: BandSpace): readonly Setting[] =>
  ranges.reduce<readonly Setting[]>(
    (settings, { from, to }) =>
      settings.flatMap((setting) =>
        Array.from({ length: to - from + 1 }, (_, index) => [...setting, from + index]),
      ),
    [[]],
  );

const bestOfAll = (space: MatchSpace, start: Found, goal: Goal): Found => {
  const choices = space.bands.map(settingsOf);
  const last = choices.length - 1;
  const chosen: Setting[] = [];
  let best = start;
  const descend = (band: number, before: Response): void => {
    for (const setting of choices[band] ?? []) {
      chosen[band] = setting;
      const response = (space.responses[band] as Responses)(setting);
      if (band < last) {
        descend(
          band + 1,
          before.map((takenDb, i) => takenDb + (response[i] as number)),
        );
        continue;
      }
      const score = space.score(before, response, goal.atMostDb(best) + equalDb);
      if (score && goal.isBetter(score, best)) best = { ...score, settings: [...chosen] };
    }
  };
  descend(0, space.wire);
  return best;
};

/** The best of all settings there are, `start` among them: every combination is looked at. */
export const searchAll = (space: MatchSpace, start: Found): Found => {
  const nearest = bestOfAll(space, start, leastWorst);
  const goal = leastSquares(nearest.worstDb);
  return bestOfAll(space, passes(start, goal) ? start : nearest, goal);
};
