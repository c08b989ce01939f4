import { lazy } from '../search/lazy.js';
import { filterWork, type WorkBudget } from '../search/work-budget.js';
import type { Lattice } from '../space/lattice.js';
import { type Row, rowOf, type Sample } from '../space/sample.js';
import { boxBounds } from './box-bounds.js';
import { type Extent, isPoint, type Range } from './extent.js';

/** A block of a lattice, with what bounds all filters inside. Its parts are worked out when first asked for. */
export interface Box extends Extent {
  readonly bounds: Row;
  /** How loose the bounds are on account of the side that loosens them most; 0 for a single filter. */
  readonly slack: number;
  /** The box cut in two across that side; none where it is a single filter. */
  readonly halves: readonly Box[];
}

type Side = 'f' | 'w' | 'g';

const sides: readonly Side[] = ['f', 'w', 'g'];

const middleIn = ([from, to]: Range): number => from + Math.floor((to - from) / 2);

/** What a decibel of loss in the keep band is worth at the pilot: about what cuts trade at, only to steer by. */
const worthOfLoss = 5;

/** At one point a notch may take without end; what matters is the point where it takes least. */
const deepDb = 60;

const rowOfBounds = (extent: Extent, sample: Sample, work: WorkBudget): Row => {
  work.left -= filterWork * sample.points.length;
  return rowOf(boxBounds(extent, sample.points), sample);
};

/**
 * How much tighter bounds would be with a side shrunk to its middle, built the first way: to steer by, that is enough.
 */
const slackFrom = (extent: Extent, side: Side, sample: Sample, work: WorkBudget): number => {
  const middle = middleIn(extent[side]);
  const [first] = sample.points;
  if (!first) return 0;
  work.left -= 2 * filterWork;
  const [whole, shrunk] = [extent, { ...extent, [side]: [middle, middle] as const }].map(
    (each) => boxBounds(each, [first])[0] as Float64Array,
  );
  const looserDb = (from: number, to: number): number => {
    let sum = 0;
    for (let i = from; i < to; i++) {
      sum += Math.abs(Math.min(deepDb, whole?.[i] as number) - Math.min(deepDb, shrunk?.[i] as number));
    }
    return sum / Math.max(1, to - from);
  };
  return looserDb(0, first.keepFrom) + worthOfLoss * looserDb(first.keepFrom, first.riseFrom);
};

const halvesOf = ([from, to]: Range): readonly Range[] => {
  const middle = middleIn([from, to]);
  return [
    [from, middle],
    [middle + 1, to],
  ];
};

const makeBox = (extent: Extent, sample: Sample, work: WorkBudget): Box => {
  const bounds = lazy(() => rowOfBounds(extent, sample, work));
  const loosest = lazy(() =>
    sides
      .filter((side) => !isPoint(extent[side]))
      .map((side) => ({ side, slack: slackFrom(extent, side, sample, work) }))
      .reduce((most, each) => (most.side === null || each.slack > most.slack ? each : most), {
        side: null as Side | null,
        slack: 0,
      }),
  );
  const halves = lazy(() => {
    const { side } = loosest();
    return side === null
      ? []
      : halvesOf(extent[side]).map((range) => makeBox({ ...extent, [side]: range }, sample, work));
  });
  return {
    ...extent,
    get bounds() {
      return bounds();
    },
    get slack() {
      return loosest().slack;
    },
    get halves() {
      return halves();
    },
  };
};

/** The filter in the middle of an extent, as a box of its own; of a single one that one. */
export const middleOf = ({ lattice, f, w, g }: Extent, sample: Sample, work: WorkBudget): Box => {
  const single = (range: Range): Range => [middleIn(range), middleIn(range)];
  return makeBox({ lattice, f: single(f), w: single(w), g: single(g) }, sample, work);
};

/** The whole of a lattice as one box. */
export const wholeBox = (lattice: Lattice, sample: Sample, work: WorkBudget): Box => {
  const { frequency, width, gain } = lattice;
  return makeBox(
    { lattice, f: [0, frequency.count - 1], w: [0, width.count - 1], g: [0, gain.count - 1] },
    sample,
    work,
  );
};
