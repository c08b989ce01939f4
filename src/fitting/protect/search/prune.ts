import type { Box } from '../bounds/box.js';
import { equalDb } from '../space/limits.js';
import { mostTakenDb } from '../space/points.js';
import { sampled } from '../space/sample.js';
import type { SearchSpace } from '../space/search-space.js';
import type { Outlook } from './goal.js';

/**
 * Tells what settings inside boxes may come to, from bounds at a sample of the points; null where each of them rises
 * somewhere. It never tells less than one of them reaches, nor more than one of them loses: fewer points than the
 * window has can only raise the least over them, fewer than the keep band has only lower the most, and boxes are
 * bounded as `box-bounds.ts` proves.
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
      let takenDb = fixed[i] as number;
      for (const row of rows) takenDb += row[i] as number;
      if (i >= windowFrom) pilotAttenuationDb = Math.min(pilotAttenuationDb, takenDb);
      else if (i < riseFrom) keepLossDb = Math.max(keepLossDb, takenDb - (asideDb[i] as number));
      else if (takenDb < (atLeastDb[i] as number) - equalDb) return null;
    }
    return { pilotAttenuationDb, keepLossDb };
  };
};
