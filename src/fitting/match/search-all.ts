import { type BandSpace, type Setting, settingCount } from './band-space.js';
import type { MatchSpace } from './match-space.js';
import type { Response, Responses } from './responses.js';
import { compareSquares, equalDb, type Found, type Limits } from './score.js';

/** Settings of single bands, and of all bands together, that are all looked at in a fraction of a second. */

/** Whether there are few enough settings to look at every one. */
export const canSearchAll = (bands: readonly BandSpace[], mostSettings = 4096, mostCombinations = 262_144): boolean => {
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

type Judge = { limits: () => Limits; take: (found: Found) => void };

const visit = (space: MatchSpace, { limits, take }: Judge): void => {
  const choices = space.bands.map(settingsOf);
  const last = choices.length - 1;
  const sums = choices.map(() => new Float64Array(space.wire.length));
  const chosen: Setting[] = choices.map(() => []);
  const descend = (band: number, before: Response): void => {
    for (const setting of choices[band] as readonly Setting[]) {
      chosen[band] = setting;
      const response = (space.responses[band] as Responses)(setting);
      if (band < last) {
        const sum = sums[band] as Float64Array;
        for (let i = 0; i < sum.length; i++) sum[i] = (before[i] as number) + (response[i] as number);
        descend(band + 1, sum);
        continue;
      }
      const score = space.score(before, response, space.wire, limits());
      if (score) take({ ...score, settings: [...chosen] });
    }
  };
  if (choices.length > 0) descend(0, space.wire);
};

/** The best of all settings there are, `start` among them: every combination is looked at. */
export const searchAll = (space: MatchSpace, start: Found): Found => {
  const squares = start.squares * (1 + equalDb);
  let least = start.worstDb;
  visit(space, {
    limits: () => ({ worstDb: least, squares }),
    take: (found) => {
      least = Math.min(least, found.worstDb);
    },
  });
  let best = start;
  const worstDb = Math.min(least + 0.1, start.worstDb) + equalDb;
  if (start.worstDb > worstDb) best = { ...start, squares: Infinity };
  visit(space, {
    limits: () => ({ worstDb, squares: Math.min(squares, best.squares * (1 + equalDb)) }),
    take: (found) => {
      if (compareSquares(found, best, space.start) < 0) best = found;
    },
  });
  return best;
};
