import { type BoundPoints, type BoxBounds, boxBounds, type Extent, type Range } from './box-bounds.js';
import type { Lattice } from './lattice.js';

/** A block of a lattice, with what bounds all cuts inside. Its parts are worked out when first asked for. */
export interface Box extends Extent {
  readonly bounds: BoxBounds;
  /** How loose the bounds are on account of the side that loosens them most; 0 for a single cut. */
  readonly slack: number;
  /** The box cut in two across that side; none where it is a single cut. */
  readonly halves: readonly Box[];
}

type Side = 'f' | 'w' | 'g';

const sides: readonly Side[] = ['f', 'w', 'g'];

const isPoint = ([from, to]: Range): boolean => from === to;

export const isSingle = ({ f, w, g }: Extent): boolean => isPoint(f) && isPoint(w) && isPoint(g);

const middleOf = ([from, to]: Range): number => (from + to) >> 1;

/** What a decibel of loss in the keep band is worth at the pilot: about what cuts trade at, only to steer by. */
const worthOfLoss = 5;

/** How much tighter bounds would be with a side shrunk to its middle, over all realisations. */
const slackFrom = (extent: Extent, side: Side, bounds: BoxBounds, points: readonly BoundPoints[]): number => {
  const middle = middleOf(extent[side]);
  const shrunk = boxBounds({ ...extent, [side]: [middle, middle] }, points);
  let slack = 0;
  for (let r = 0; r < points.length; r++) {
    const window = bounds.inWindowDb[r] as readonly number[];
    const pilot = window.length >> 1;
    slack += (window[pilot] as number) - ((shrunk.inWindowDb[r] as readonly number[])[pilot] as number);
    slack += worthOfLoss * ((shrunk.atKeepEndDb[r] as number) - (bounds.atKeepEndDb[r] as number));
  }
  return slack;
};

const halvesOf = ([from, to]: Range): readonly Range[] => {
  const middle = middleOf([from, to]);
  return [
    [from, middle],
    [middle + 1, to],
  ];
};

const once = <Value>(make: () => Value): (() => Value) => {
  let made: { readonly value: Value } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
};

const makeBox = (extent: Extent, points: readonly BoundPoints[]): Box => {
  const bounds = once(() => boxBounds(extent, points));
  const loosest = once(() =>
    sides
      .filter((side) => !isPoint(extent[side]))
      .map((side) => ({ side, slack: slackFrom(extent, side, bounds(), points) }))
      .reduce((most, each) => (each.slack > most.slack ? each : most), {
        side: null as Side | null,
        slack: -1,
      }),
  );
  const halves = once(() => {
    const { side } = loosest();
    return side === null
      ? []
      : halvesOf(extent[side]).map((range) => makeBox({ ...extent, [side]: range }, points));
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
export const wholeBox = (lattice: Lattice, points: readonly BoundPoints[]): Box =>
  makeBox(
    {
      lattice,
      f: [0, lattice.frequencies.length - 1],
      w: [0, lattice.widths.length - 1],
      g: [0, lattice.gains.length - 1],
    },
    points,
  );
