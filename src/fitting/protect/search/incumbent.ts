import type { Box } from '../bounds/box.js';
import { betterOf, evaluate, type Found, outlookIn } from './evaluate.js';
import { type Goal, mayBetter } from './goal.js';
import type { SearchSpace } from './search-space.js';

type Side = 'f' | 'w' | 'g';

/** A knob of one of the filters of a setting, and how many steps it has. */
interface Turnable {
  readonly filter: number;
  readonly side: Side;
  readonly count: number;
}

const knobsOf = (singles: readonly Box[]): readonly Turnable[] =>
  singles.flatMap(({ lattice: { frequency, width, gain } }, filter) =>
    [
      { filter, side: 'f', count: frequency.count } as const,
      { filter, side: 'w', count: width.count } as const,
      { filter, side: 'g', count: gain.count } as const,
    ].filter(({ count }) => count > 1),
  );

const turned = (
  singles: readonly Box[],
  { filter, side, count }: Turnable,
  steps: number,
  space: SearchSpace,
) => {
  const single = singles[filter] as Box;
  const at = Math.min(count - 1, Math.max(0, single[side][0] + steps));
  return singles.with(filter, space.singleAt({ ...single, [side]: [at, at] }));
};

/** Strides from a quarter of a knob's steps down to one, or to so many halvings. */
const firstShare = 1 / 4;
const mostHalvings = 13;

/** Of a stride no more than so many rounds: on very fine knobs each may better the last by next to nothing, for ever. */
const mostRounds = 40;

const strideOf = ({ count }: Turnable, halving: number): number =>
  Math.max(1, Math.floor((count * firstShare) / 2 ** halving));

/**
 * A setting near a good one that no move of one knob or of two together betters, in strides that get smaller. It begins
 * a search where knobs are very fine; it proves nothing.
 */
export const refine = (from: Found, space: SearchSpace, goal: Goal): Found => {
  const knobs = knobsOf(from.singles);
  const outlookOf = outlookIn(space);
  let best = from;
  const look = (singles: readonly Box[]): void => {
    const outlook = outlookOf(singles);
    if (!outlook || !goal.isWithin(outlook) || !mayBetter(outlook, best, goal)) return;
    best = betterOf(best, evaluate(singles, space), goal) ?? best;
  };
  for (let halving = 0; halving < mostHalvings; halving++) {
    let before: Found | null = null;
    for (let round = 0; before !== best && round < mostRounds; round++) {
      before = best;
      knobs.forEach((knob, index) => {
        for (const way of [1, -1]) {
          const once = turned(best.singles, knob, way * strideOf(knob, halving), space);
          look(once);
          for (const other of knobs.slice(index + 1)) {
            for (const back of [1, -1]) look(turned(once, other, back * strideOf(other, halving), space));
          }
        }
      });
    }
  }
  return best;
};
