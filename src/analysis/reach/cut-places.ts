import type { Filter } from '../../filters/filter.js';
import type { Desk } from '../../model/desk.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { stepsAround } from '../../quantisers/snap.js';
import { step } from '../../units/quantity.js';

/** Where bells and notches can stand in a stretch, and where some are set. */
export interface CutPlaces {
  readonly count: number;
  /** Each of them in hertz, rising; none where there are too many to mark. */
  readonly frequenciesHz: readonly number[];
  readonly setHz: readonly number[];
}

/** More places than this nobody could tell apart on a picture: they are counted, and not marked. */
const mostMarked = 200;

/** The grids of frequency that the bells and notches of some slots have, each once. */
const cutGrids = (slots: Desk['slots']): readonly Quantiser[] => [
  ...new Set(
    slots.flatMap(({ types }) =>
      (['peaking', 'notch'] as const).flatMap((type) => types.get(type)?.grids.frequency ?? []),
    ),
  ),
];

/** The steps of a grid in a stretch, the first and how many. */
const stepsInside = (
  grid: Quantiser,
  stretch: readonly [fromHz: number, toHz: number],
): readonly [first: number, count: number] => {
  const [low, high] = stretch.map((frequencyHz) => stepsAround(grid, frequencyHz));
  const [first, last] = [low?.at ?? low?.above ?? null, high?.at ?? high?.below ?? null];
  return first === null || last === null ? [0, 0] : [first, Math.max(0, last - first + 1)];
};

/** Where bells and notches of some slots can stand in a stretch round a pilot, and where some filters that cut there are set. */
export const cutPlaces = (
  slots: Desk['slots'],
  filters: readonly Pick<Filter, 'type' | 'frequencyHz'>[],
  stretch: readonly [fromHz: number, toHz: number],
): CutPlaces => {
  const grids = cutGrids(slots).map((grid) => ({ grid, inside: stepsInside(grid, stretch) }));
  const most = Math.max(0, ...grids.map(({ inside: [, count] }) => count));
  const frequenciesHz = grids.flatMap(({ grid, inside: [first, count] }) =>
    Array.from({ length: most > mostMarked ? 0 : count }, (_, index) => grid.valueAt(step(first + index))),
  );
  return {
    // Grids that share a frequency have it once; where there are too many to mark, the finest grid's are told.
    count: most > mostMarked ? most : new Set(frequenciesHz).size,
    frequenciesHz: [...new Set(frequenciesHz)].sort((a, b) => a - b),
    setHz: filters
      .filter(({ type }) => type === 'peaking' || type === 'notch')
      .map(({ frequencyHz }) => frequencyHz),
  };
};
