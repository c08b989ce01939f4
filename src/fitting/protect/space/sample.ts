import type { GuardScope } from '../../../guard/guard-scope.js';
import { itemAt, numberAt } from '../../../units/at.js';
import type { Lattice } from './lattice.js';
import type { PerPoint, Points } from './points.js';

/**
 * Some of the points of each realisation, where settings are looked at before they are worked out. Numbers at them are
 * kept in one row: those of all keep bands, then of all rise bands, then of all windows.
 */
export interface Sample {
  readonly points: readonly Points[];
  /** The points of the sample by their index among all of a realisation's. */
  readonly indices: readonly (readonly number[])[];
  /** Where in a row the rise bands and the windows begin. */
  readonly riseFrom: number;
  readonly windowFrom: number;
}

/** Numbers at the points of a sample, as one row. */
export type Row = Float64Array;

/** Puts numbers told for each realisation's points of the sample in a row. */
export const rowOf = (perPoint: PerPoint, { points, riseFrom, windowFrom }: Sample): Row => {
  const row = new Float64Array(perPoint.reduce((length, { length: more }) => length + more, 0));
  let [keepAt, riseAt, windowAt] = [0, riseFrom, windowFrom];
  points.forEach((each, r) => {
    const numbers = itemAt(perPoint, r);
    row.set(numbers.subarray(each.keepFrom, each.riseFrom), keepAt);
    row.set(numbers.subarray(each.riseFrom), riseAt);
    row.set(numbers.subarray(0, each.keepFrom), windowAt);
    keepAt += each.riseFrom - each.keepFrom;
    riseAt += numbers.length - each.riseFrom;
    windowAt += each.keepFrom;
  });
  return row;
};

/** The numbers of a sample among those of all points. */
export const sampled = (all: PerPoint, sample: Sample): Row =>
  rowOf(
    sample.indices.map((chosen, r) => Float64Array.from(chosen, (index) => numberAt(itemAt(all, r), index))),
    sample,
  );

/** The ends and the middle of the window will do for bells; a notch shows only where it is looked at. */
const inWindow = (
  { keepFrom }: Points,
  pilotCuts: readonly Lattice[],
  { windowHz }: GuardScope,
): readonly number[] => {
  if (windowHz === 0) return [0];
  const all = Array.from({ length: keepFrom }, (_, i) => i);
  return pilotCuts.some(({ slotType }) => slotType.type === 'notch') ? all : all.filter((i) => i % 4 === 0);
};

/**
 * The points of the keep band at which a limit may stop what moves. That takes the more the nearer the pilot: so the
 * end; going down from it, each point where the limit leaves less room than at all above; and where cuts may have their
 * centres, every point. Two octaves down they take next to nothing: of all that, the point with the least room will do.
 */
const inKeepBand = (
  { frequenciesHz, keepFrom, riseFrom }: Points,
  roomDb: Float64Array,
  lowestCentreHz: number,
): readonly number[] => {
  const end = riseFrom - 1;
  const twoOctavesDownHz = numberAt(frequenciesHz, end) / 4;
  const chosen = [end];
  let tightest = end;
  for (let i = end - 1; i >= keepFrom; i--) {
    const hz = numberAt(frequenciesHz, i);
    const isTighter = numberAt(roomDb, i) < numberAt(roomDb, tightest);
    if (isTighter) tightest = i;
    if (hz >= lowestCentreHz || (isTighter && hz > twoOctavesDownHz)) chosen.push(i);
  }
  return [...new Set([...chosen, tightest])].reverse();
};

/** Only a Q above 1/√2 makes a hump. */
const canHump = ({ slotType: { grids }, width }: Lattice): boolean =>
  grids.q !== undefined && width.valueAt(width.count - 1) > Math.SQRT1_2 + 1e-9;

/** Every fifth point, a fifth of an octave, between the keep band's upper part and the pilot: enough to see a hump. */
const inRiseBand = (
  { riseFrom, frequenciesHz }: Points,
  highCuts: readonly Lattice[],
  { keepHighHz, pilotHz }: GuardScope,
): readonly number[] =>
  highCuts.some(canHump)
    ? Array.from(frequenciesHz.keys()).filter((i) => {
        const hz = numberAt(frequenciesHz, i);
        return i >= riseFrom && (i - riseFrom) % 5 === 0 && hz > keepHighHz / 2 && hz < pilotHz;
      })
    : [];

/** A sample that tells most settings' worth. `roomDb` is what limits leave at each point beside what is there anyhow. */
export const sampleOf = (
  points: readonly Points[],
  roomDb: PerPoint,
  highCuts: readonly Lattice[],
  pilotCuts: readonly Lattice[],
  scope: GuardScope,
): Sample => {
  const lowestCentreHz = Math.min(...pilotCuts.map(({ frequency }) => frequency.valueAt(0)));
  const chosen = points.map((each, r) => ({
    window: inWindow(each, pilotCuts, scope),
    keep: inKeepBand(each, itemAt(roomDb, r), lowestCentreHz),
    rise: inRiseBand(each, highCuts, scope),
  }));
  const indices = chosen.map(({ window, keep, rise }) => [...window, ...keep, ...rise]);
  const countOf = (part: 'keep' | 'rise') => chosen.reduce((count, each) => count + each[part].length, 0);
  return {
    indices,
    points: chosen.map(({ window, keep }, r) => {
      const { realisation, frequenciesHz } = itemAt(points, r);
      return {
        realisation,
        frequenciesHz: Float64Array.from(indices[r] ?? [], (index) => numberAt(frequenciesHz, index)),
        keepFrom: window.length,
        riseFrom: window.length + keep.length,
      };
    }),
    riseFrom: countOf('keep'),
    windowFrom: countOf('keep') + countOf('rise'),
  };
};
