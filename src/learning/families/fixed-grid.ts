import { leastWhere } from '../../quantisers/grid.js';
import type { Quantiser, QuantiserSpec } from '../../quantisers/quantiser.js';
import { itemAt } from '../../units/at.js';
import { step } from '../../units/quantity.js';
import type { Chain } from '../chains.js';
import type { End, Interval } from '../reading.js';
import { digitsOf, simplestIn } from '../simplest.js';
import type { Explanation, KnobEvidence } from './family.js';

/** How a stretch of a grid is said, from one of its steps to another. */
export interface Stretch {
  readonly spec: QuantiserSpec;
  readonly complexity: number;
  readonly reasons: readonly string[];
}

/** A grid that leaves nothing open but where it begins and ends. */
export interface FixedGrid {
  readonly name: string;
  readonly grid: Quantiser;
  say(first: number, last: number): Stretch;
}

/** Steps looked at that one display may stand for, and steps that a stop may be at. */
const [mostSteps, mostEnds] = [200, 3];

const gridValue = (grid: Quantiser, index: number): number => grid.valueAt(step(index));

const isOn = (grid: Quantiser, index: number, { least, most }: Interval): boolean => {
  if (index < 0 || index >= grid.count) return false;
  const value = gridValue(grid, index);
  return value >= least && value <= most;
};

const firstFrom = (grid: Quantiser, value: number): number =>
  leastWhere(0, grid.count, (index) => gridValue(grid, index) >= value);

/** The steps in an interval, from the first to before the end. */
interface Run {
  readonly first: number;
  readonly end: number;
}

/** What was worked out for a grid: the same readings are held against it again and again. */
const runsOf = new WeakMap<Quantiser, WeakMap<Interval, Run>>();

const runIn = (grid: Quantiser, interval: Interval): Run => {
  const known = runsOf.get(grid) ?? new WeakMap<Interval, Run>();
  runsOf.set(grid, known);
  const found = known.get(interval);
  if (found) return found;
  const first = firstFrom(grid, interval.least);
  const end = leastWhere(first, grid.count, (index) => gridValue(grid, index) > interval.most);
  const run = { first, end };
  known.set(interval, run);
  return run;
};

/** Where the first reading of a chain may stand for all of it to be on the grid: each reading allows one run of steps. */
const startsOf = (grid: Quantiser, chain: Chain): readonly number[] => {
  let [first, end] = [0, grid.count];
  for (const { interval, clicks } of chain) {
    const run = runIn(grid, interval);
    first = Math.max(first, run.first - clicks);
    end = Math.min(end, run.end - clicks);
    if (first >= end) return [];
  }
  return Array.from({ length: Math.min(end - first, mostSteps) }, (_, at) => first + at);
};

/** The steps a stop may be at; null where no reading is at it. */
const endsOf = (
  grid: Quantiser,
  chains: readonly Chain[],
  starts: readonly (readonly number[])[],
  end: End,
): readonly number[] | null => {
  const found = chains.flatMap((chain, at) =>
    chain.flatMap(({ stop, clicks }) =>
      stop === end ? [itemAt(starts, at).map((start) => start + clicks)] : [],
    ),
  );
  const [first, ...others] = found;
  if (!first) return null;
  const possible = first.filter((index) => others.every((other) => other.includes(index)));
  // Where many ends show the same, the simplest stands for all.
  if (possible.length <= mostEnds) return possible;
  return possible
    .map((index) => ({ index, digits: digitsOf(gridValue(grid, index)) }))
    .reduce<{ index: number; digits: number }[]>(
      ([best], each) => [best && best.digits <= each.digits ? best : each],
      [],
    )
    .map(({ index }) => index);
};

/** Whether a chain that starts at a step stays between two ends, with its stops on them. */
const agrees = (chain: Chain, start: number, bottom: number | null, top: number | null): boolean =>
  chain.every(({ clicks, stop }) => {
    const index = start + clicks;
    if (stop === 'bottom' && index !== bottom) return false;
    if (stop === 'top' && index !== top) return false;
    return (bottom === null || index >= bottom) && (top === null || index <= top);
  });

/** Ends that stand beside what the screen shows, though nothing of such a grid is rounded, are hard to believe in. */
const costOfInexactEnd = 4;

const inexactEnds = (
  grid: Quantiser,
  chains: readonly Chain[],
  bottom: number | null,
  top: number | null,
): number => {
  const isBeside = (end: End, index: number | null): boolean => {
    const read = chains.flat().find(({ stop }) => stop === end);
    if (index === null || !read) return false;
    const value = gridValue(grid, index);
    return Math.abs(value - simplestIn(read.interval)) > 1e-9 * Math.abs(value);
  };
  return Number(isBeside('bottom', bottom)) + Number(isBeside('top', top));
};

const explanationOf = (
  { name, grid, say }: FixedGrid,
  { chains }: KnobEvidence,
  starts: readonly (readonly number[])[],
  bottom: number | null,
  top: number | null,
): Explanation | null => {
  const placed = starts.map((each, at) =>
    each.filter((start) => agrees(itemAt(chains, at), start, bottom, top)),
  );
  if (placed.some((each) => each.length === 0)) return null;
  const places = new Map(
    chains.flatMap((chain, at) =>
      chain.map((each) => [each.at, itemAt(placed, at).map((start) => start + each.clicks)]),
    ),
  );
  const read = [...places.values()].flat();
  const [first, last] = [bottom ?? Math.min(...read), top ?? Math.max(...read)];
  if (first >= last) return null;
  const [lowest, highest] = [bottom ?? 0, top ?? grid.count - 1];
  const isInside = (index: number) => index >= lowest && index <= highest;
  const within = (index: number) => Math.max(lowest, Math.min(index, highest));
  const said = say(first, last);
  return {
    key: `${name} ${bottom} ${top}`,
    ...said,
    complexity: said.complexity + costOfInexactEnd * inexactEnds(grid, chains, bottom, top),
    count: bottom === null || top === null ? null : top - bottom + 1,
    openEnds: [
      ...(bottom === null ? (['bottom'] as const) : []),
      ...(top === null ? (['top'] as const) : []),
    ],
    neighboursOf: (value) => {
      const upper = firstFrom(grid, value * (1 - 1e-12));
      const at = upper < grid.count && Math.abs(gridValue(grid, upper) - value) <= Math.abs(value) * 1e-12;
      const exactly = (index: number) => {
        if (!isInside(index)) return null;
        const nearest = gridValue(grid, index);
        return { least: nearest, most: nearest };
      };
      return {
        below: exactly(Math.min(upper - 1, highest)),
        at: at && isInside(upper),
        above: exactly(Math.max(at ? upper + 1 : upper, lowest)),
      };
    },
    admits: (interval, from) => {
      if (from) {
        return (places.get(from.at) ?? []).some(
          (index) => isInside(index + from.clicks) && isOn(grid, index + from.clicks, interval),
        );
      }
      const index = Math.max(firstFrom(grid, interval.least), bottom ?? 0);
      return isInside(index) && isOn(grid, index, interval);
    },
    valueFrom: ({ at, clicks }) => {
      const index = (places.get(at)?.[0] ?? -1) + clicks;
      return isInside(index) ? gridValue(grid, index) : null;
    },
    valueNear: (value) => {
      const upper = within(firstFrom(grid, value));
      const lower = within(upper - 1);
      return value - gridValue(grid, lower) < gridValue(grid, upper) - value
        ? gridValue(grid, lower)
        : gridValue(grid, upper);
    },
  };
};

/** Every stretch of a grid that explains what was read. */
export const explainFixed = (fixed: FixedGrid, evidence: KnobEvidence): readonly Explanation[] => {
  const { grid } = fixed;
  const starts: (readonly number[])[] = [];
  for (const chain of evidence.chains) {
    const each = startsOf(grid, chain);
    if (each.length === 0) return [];
    starts.push(each);
  }
  const bottoms = endsOf(grid, evidence.chains, starts, 'bottom') ?? [null];
  const tops = endsOf(grid, evidence.chains, starts, 'top') ?? [null];
  return bottoms
    .flatMap((bottom) => tops.map((top) => [bottom, top] as const))
    .filter(
      ([bottom, top]) =>
        bottom === null || top === null || evidence.count === null || top - bottom + 1 === evidence.count,
    )
    .flatMap(([bottom, top]) => explanationOf(fixed, evidence, starts, bottom, top) ?? []);
};
