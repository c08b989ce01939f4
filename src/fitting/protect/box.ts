import { type BoundPoints, type BoxBounds, boxBounds } from './box-bounds.js';
import type { Lattice } from './lattice.js';

/** A block of a lattice: ranges of frequencies, widths and gains, ends included. */
export interface Box {
  readonly lattice: Lattice;
  readonly f: Range;
  readonly w: Range;
  readonly g: Range;
  readonly bounds: BoxBounds;
  /** The box in two halves; none where it is a single point. Worked out when first asked for. */
  readonly halves: () => readonly Box[];
}

type Range = readonly [from: number, to: number];

const lengthOf = ([from, to]: Range): number => to - from;

export const isSingle = ({ f, w, g }: Box): boolean => lengthOf(f) + lengthOf(w) + lengthOf(g) === 0;

type Sides = Pick<Box, 'f' | 'w' | 'g'>;

const sides = ({ f, w, g }: Sides): readonly number[] => [lengthOf(f), lengthOf(w), lengthOf(g)];

/** How many steps the longest side of a box spans. */
export const longestSide = (box: Sides): number => Math.max(...sides(box));

const halved = ([from, to]: Range): readonly Range[] => {
  const middle = (from + to) >> 1;
  return [
    [from, middle],
    [middle + 1, to],
  ];
};

const makeBox = (lattice: Lattice, f: Range, w: Range, g: Range, points: readonly BoundPoints[]): Box => {
  let made: readonly Box[] | undefined;
  let bounds: BoxBounds | undefined;
  const halve = (): readonly Box[] => {
    const lengths = sides({ f, w, g });
    const longest = lengths.indexOf(Math.max(...lengths));
    if (lengths[longest] === 0) return [];
    if (longest === 0) return halved(f).map((range) => makeBox(lattice, range, w, g, points));
    if (longest === 1) return halved(w).map((range) => makeBox(lattice, f, range, g, points));
    return halved(g).map((range) => makeBox(lattice, f, w, range, points));
  };
  const halves = (): readonly Box[] => {
    made ??= halve();
    return made;
  };
  return {
    lattice,
    f,
    w,
    g,
    get bounds() {
      bounds ??= boxBounds({ lattice, f, w, g, halves }, points);
      return bounds;
    },
    halves,
  };
};

/** The whole of a lattice as one box. */
export const wholeBox = (lattice: Lattice, points: readonly BoundPoints[]): Box =>
  makeBox(
    lattice,
    [0, lattice.frequencies.length - 1],
    [0, lattice.widths.length - 1],
    [0, lattice.gains.length - 1],
    points,
  );
