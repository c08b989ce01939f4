import type { FilterType } from '../../../filters/filter.js';
import { itemAt } from '../../../units/at.js';
import type { Lattice } from '../space/lattice.js';
import { attenuationsOf, type PerPoint, type Points } from '../space/points.js';
import { type Row, rowOf, type Sample } from '../space/sample.js';
import { filterWork, lazy, type WorkBudget } from '../work-budget.js';
import { bellBounds } from './bell-bounds.js';
import { cutBounds } from './cut-bounds.js';
import type { Side } from './extent.js';
import { type Bounds, type Extent, isPoint, isSingle, type Range, singleFilter } from './extent.js';
import { shelfBounds } from './shelf-bounds.js';

const boundsOf: Readonly<Partial<Record<FilterType, Bounds>>> = {
  peaking: bellBounds,
  notch: bellBounds,
  lowpass: cutBounds,
  highshelf: shelfBounds,
};

/**
 * Bounds over all filters of an extent, for every point of each realisation: in the keep band what each of them takes at
 * least, elsewhere what none exceeds. Of a single filter they are what it takes.
 */
export const boxBounds = (extent: Extent, points: readonly Points[]): PerPoint => {
  if (isSingle(extent)) return attenuationsOf([singleFilter(extent)], points);
  const bounds = boundsOf[extent.lattice.slotType.type];
  if (!bounds)
    throw new RangeError(`no bounds are known for a box of ${extent.lattice.slotType.type} filters`);
  return points.map((each) => bounds(extent, each));
};

/** A block of a lattice, with what bounds all filters inside. Its parts are worked out when first asked for. */
export interface Box extends Extent {
  readonly bounds: Row;
  /** How loose the bounds are on account of the side that loosens them most; 0 for a single filter. */
  readonly slack: number;
  /** The box cut in two across that side; none where it is a single filter. */
  readonly halves: readonly Box[];
}

const sides: readonly Side[] = ['f', 'w', 'g'];

const middleIn = ([from, to]: Range): number => from + Math.floor((to - from) / 2);

/** What a decibel of loss in the keep band is worth at the pilot: about what cuts trade at, only to steer by. */
const worthOfLoss = 5;

const rowOfBounds = (extent: Extent, sample: Sample, work: WorkBudget): Row => {
  work.left -= filterWork * sample.points.length;
  return rowOf(boxBounds(extent, sample.points), sample);
};

/** What bounds say of the pilot and of the music, built the first way: to steer by, that is enough. */
interface Glance {
  readonly pilotDb: number;
  readonly lossDb: number;
}

const glanceAt = (extent: Extent, sample: Sample, work: WorkBudget): Glance => {
  const [first] = sample.points;
  if (!first) return { pilotDb: 0, lossDb: 0 };
  work.left -= filterWork;
  const bounds = itemAt(boxBounds(extent, [first]), 0);
  return {
    pilotDb: Math.min(...bounds.subarray(0, first.keepFrom)),
    lossDb: Math.max(...bounds.subarray(first.keepFrom, first.riseFrom)),
  };
};

/** How much tighter bounds would be with a side shrunk to its middle. */
const slackFrom = (extent: Extent, side: Side, whole: Glance, sample: Sample, work: WorkBudget): number => {
  const middle = middleIn(extent[side]);
  const shrunk = glanceAt({ ...extent, [side]: [middle, middle] }, sample, work);
  return Math.abs(whole.pilotDb - shrunk.pilotDb) + worthOfLoss * Math.abs(whole.lossDb - shrunk.lossDb);
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
  const loosest = lazy(() => {
    const turning = sides.filter((side) => !isPoint(extent[side]));
    const whole = turning.length > 0 ? glanceAt(extent, sample, work) : { pilotDb: 0, lossDb: 0 };
    return turning
      .map((side) => ({ side, slack: slackFrom(extent, side, whole, sample, work) }))
      .reduce((most, each) => (most.side === null || each.slack > most.slack ? each : most), {
        side: null as Side | null,
        slack: 0,
      });
  });
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
