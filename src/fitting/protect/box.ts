import type { Filter } from '../../filters/filter.js';
import { boxBounds, type Extent, type Range } from './box-bounds.js';
import { filterAt, type Lattice } from './lattice.js';
import { once } from './once.js';
import { boundsLooks, type Patience } from './patience.js';
import { type Row, rowOf, type Sample } from './sample.js';

/** A block of a lattice, with what bounds all cuts inside. Its parts are worked out when first asked for. */
export interface Box extends Extent {
  readonly bounds: Row;
  /** How loose the bounds are on account of the side that loosens them most; 0 for a single cut. */
  readonly slack: number;
  /** The box cut in two across that side; none where it is a single cut. */
  readonly halves: readonly Box[];
}

type Side = 'f' | 'w' | 'g';

const sides: readonly Side[] = ['f', 'w', 'g'];

const isPoint = ([from, to]: Range): boolean => from === to;

export const isSingle = ({ f, w, g }: Extent): boolean => isPoint(f) && isPoint(w) && isPoint(g);

/** The one cut a single box holds. */
export const singleFilter = ({ lattice, f, w, g }: Extent): Filter => filterAt(lattice, f[0], w[0], g[0]);

const middleOf = ([from, to]: Range): number => (from + to) >> 1;

/** What a decibel of loss in the keep band is worth at the pilot: about what cuts trade at, only to steer by. */
const worthOfLoss = 5;

const rowOfBounds = (extent: Extent, sample: Sample, patience: Patience): Row => {
  patience.left -= boundsLooks * sample.points.length;
  return rowOf(boxBounds(extent, sample.points), sample);
};

/** How much tighter bounds would be with a side shrunk to its middle, over all realisations. */
const slackFrom = (extent: Extent, side: Side, bounds: Row, sample: Sample, patience: Patience): number => {
  const middle = middleOf(extent[side]);
  const shrunk = rowOfBounds({ ...extent, [side]: [middle, middle] }, sample, patience);
  const looserDb = (from: number, to: number): number => {
    let sum = 0;
    for (let i = from; i < to; i++) sum += Math.abs((bounds[i] as number) - (shrunk[i] as number));
    return sum / (to - from);
  };
  return looserDb(sample.windowFrom, bounds.length) + worthOfLoss * looserDb(0, sample.riseFrom);
};

const halvesOf = ([from, to]: Range): readonly Range[] => {
  const middle = middleOf([from, to]);
  return [
    [from, middle],
    [middle + 1, to],
  ];
};

const makeBox = (extent: Extent, sample: Sample, patience: Patience): Box => {
  const bounds = once(() => rowOfBounds(extent, sample, patience));
  const loosest = once(() =>
    sides
      .filter((side) => !isPoint(extent[side]))
      .map((side) => ({ side, slack: slackFrom(extent, side, bounds(), sample, patience) }))
      .reduce((most, each) => (most.side === null || each.slack > most.slack ? each : most), {
        side: null as Side | null,
        slack: 0,
      }),
  );
  const halves = once(() => {
    const { side } = loosest();
    return side === null
      ? []
      : halvesOf(extent[side]).map((range) => makeBox({ ...extent, [side]: range }, sample, patience));
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

/** The whole of a lattice as one box. */
export const wholeBox = (lattice: Lattice, sample: Sample, patience: Patience): Box =>
  makeBox(
    {
      lattice,
      f: [0, lattice.frequencies.length - 1],
      w: [0, lattice.widths.length - 1],
      g: [0, lattice.gains.length - 1],
    },
    sample,
    patience,
  );
