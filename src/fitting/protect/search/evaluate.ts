import { buildChain } from '../../../filters/build.js';
import { exceedsDb, highestDb, lowestDb } from '../../../filters/extremes.js';
import { guardBandDb, roundingDb } from '../../../guard/guard-figures.js';
import { itemAt, numberAt } from '../../../units/at.js';
import type { Box } from '../bounds/box.js';
import { singleFilter } from '../bounds/extent.js';
import { stepsAt } from '../space/lattice.js';
import { mostTakenDb } from '../space/points.js';
import { sampled } from '../space/sample.js';
import { guardBandWork, lazy, wholeWork } from '../work-budget.js';
import { type Goal, isBetter, mayBetter, type Outlook, type Solution, tieSoFar } from './goal.js';
import type { SearchSpace } from './search-space.js';

/**
 * Tells what settings inside boxes may come to, from bounds at a sample of the points; null where each of them rises
 * somewhere. It never tells less than one of them reaches, nor more than one of them loses: fewer points than the
 * window has can only raise the least over them, fewer than the keep band has only lower the most, and boxes are
 * bounded as the files in `bounds/` prove.
 */
export const outlookIn = (space: SearchSpace): ((boxes: readonly Box[]) => Outlook | null) => {
  const { sample } = space;
  const { riseFrom, windowFrom } = sample;
  const fixed = sampled(space.fixedTakes, sample);
  const asideDb = sampled(space.asideDb, sample);
  const atLeastDb = sampled(space.takeAtLeastDb, sample);
  return (boxes) => {
    const rows = boxes.map(({ bounds }) => bounds);
    let keepLossDb = -mostTakenDb;
    let pilotAttenuationDb = mostTakenDb;
    for (let i = 0; i < fixed.length; i++) {
      let takenDb = numberAt(fixed, i);
      for (const row of rows) takenDb += numberAt(row, i);
      if (i >= windowFrom) pilotAttenuationDb = Math.min(pilotAttenuationDb, takenDb);
      else if (i < riseFrom) keepLossDb = Math.max(keepLossDb, takenDb - numberAt(asideDb, i));
      else if (takenDb < numberAt(atLeastDb, i) - roundingDb) return null;
    }
    return { pilotAttenuationDb, keepLossDb };
  };
};

/** A setting found: single boxes, the high cut first if there is one, then the cuts round the pilot. */
export interface Found extends Solution {
  readonly singles: readonly Box[];
}

const stepsOf = (singles: readonly Box[]): readonly number[] =>
  singles.flatMap(({ lattice, f, w, g }) => Object.values(stepsAt(lattice, f[0], w[0], g[0])));

/** The worst figures at points of single boxes beside the filters that stay; null where something rises. */
const figuresAtPoints = (singles: readonly Box[], space: SearchSpace): Outlook | null => {
  const terms = [space.fixedTakes, ...singles.map((single) => space.builtOf(single).takes)];
  let pilotAttenuationDb = mostTakenDb;
  let keepLossDb = -mostTakenDb;
  for (let r = 0; r < space.points.length; r++) {
    const { frequenciesHz, keepFrom, riseFrom } = itemAt(space.points, r);
    const atLeastDb = itemAt(space.takeAtLeastDb, r);
    const asideDb = itemAt(space.asideDb, r);
    const takes = terms.map((term) => itemAt(term, r));
    for (let i = 0; i < frequenciesHz.length; i++) {
      let takenDb = 0;
      for (const each of takes) takenDb += numberAt(each, i);
      if (i < keepFrom) pilotAttenuationDb = Math.min(pilotAttenuationDb, takenDb);
      else if (i < riseFrom) keepLossDb = Math.max(keepLossDb, takenDb - numberAt(asideDb, i));
      else if (takenDb < numberAt(atLeastDb, i)) return null;
    }
  }
  return { pilotAttenuationDb, keepLossDb: Math.min(keepLossDb, mostTakenDb) };
};

/** The worst figures anywhere in the bands they are taken over, in every way of building; null where something rises. */
const figuresAnywhere = (
  singles: readonly Box[],
  { judged, builtOf, scope, work }: SearchSpace,
): Outlook | null => {
  work.left -= wholeWork * judged.length;
  const built = singles.map(builtOf);
  const chains = judged.map((each, r) => {
    const moving = built.flatMap(({ chains }) => itemAt(chains, r));
    const mayRise = !each.hasRoomToRise || built.some(({ isRaising }) => isRaising(r));
    return { ...each, moving, all: [...each.fixed, ...moving], mayRise };
  });
  const mostRiseDb = scope.riseAtMostDb + roundingDb;
  const isRisen = chains.some(
    ({ rise, moving, all, mayRise }) =>
      mayRise &&
      (rise.whole.some((band) => exceedsDb(all, band, mostRiseDb)) ||
        rise.beside.some((band) => exceedsDb(moving, band, roundingDb))),
  );
  if (isRisen) return null;
  const lossesDb = chains.flatMap(({ keep, moving, all }) => [
    ...keep.whole.map((band) => -lowestDb(all, band)),
    ...keep.beside.map((band) => -lowestDb(moving, band)),
  ]);
  return {
    pilotAttenuationDb: Math.min(...chains.map(({ window, all }) => -highestDb(all, window))),
    keepLossDb: Math.max(...lossesDb),
  };
};

/** A setting worked out exactly; null where it rises. */
export const evaluate = (singles: readonly Box[], space: SearchSpace): Found | null => {
  const figures = figuresAnywhere(singles, space);
  if (!figures) return null;
  return {
    ...figures,
    guardBandDb: lazy(() => {
      space.work.left -= guardBandWork * space.realisations.length;
      const all = [...space.fixed, ...singles.map(singleFilter)];
      return Math.min(
        ...space.realisations.map((each) =>
          guardBandDb(buildChain(all, each), space.scope, each.sampleRateHz),
        ),
      );
    }),
    steps: stepsOf(singles),
    singles,
  };
};

/** The better of the best so far and a setting, where that holds what must hold. */
export const betterOf = (best: Found | null, found: Found | null, goal: Goal): Found | null => {
  if (!found || !goal.isWithin(found)) return best;
  if (!best) return found;
  if (!tieSoFar(found, best, goal) && !mayBetter(found, best, goal)) return best;
  return isBetter(found, best, goal) ? found : best;
};

/** The same for a setting not worked out yet; it is only where it may be better by its points (see `pointsOf`). */
export const improvedBy = (
  singles: readonly Box[],
  best: Found | null,
  space: SearchSpace,
  goal: Goal,
): Found | null => {
  const outlook = figuresAtPoints(singles, space);
  if (!outlook || !goal.isWithin(outlook) || (best && !mayBetter(outlook, best, goal))) return best;
  return betterOf(best, evaluate(singles, space), goal);
};
