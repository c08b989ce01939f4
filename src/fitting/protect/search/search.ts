import { roundingDb } from '../../../guard/guard-figures.js';
import type { Box } from '../bounds/box.js';
import { isSingle } from '../bounds/extent.js';
import { nodeWork } from '../work-budget.js';
import { type Found, improvedBy, outlookIn } from './evaluate.js';
import { type Goal, mayBetter } from './goal.js';
import { refine } from './incumbent.js';
import type { SearchSpace } from './search-space.js';

/** A priority queue: what ranks highest comes out first. A plain binary heap. */
interface Heap<Item> {
  push(rank: number, item: Item): void;
  /** The highest-ranking item, or undefined when none is left. */
  pop(): { readonly rank: number; readonly item: Item } | undefined;
}

const makeHeap = <Item>(): Heap<Item> => {
  const entries: { rank: number; item: Item }[] = [];
  const rankAt = (index: number): number => entries[index]?.rank ?? Number.NEGATIVE_INFINITY;
  const swap = (a: number, b: number): void => {
    const [atA, atB] = [entries[a], entries[b]];
    if (atA && atB) [entries[a], entries[b]] = [atB, atA];
  };
  return {
    push(rank, item) {
      entries.push({ rank, item });
      let index = entries.length - 1;
      while (index > 0) {
        const parent = (index - 1) >> 1;
        if (rankAt(parent) >= rankAt(index)) return;
        swap(parent, index);
        index = parent;
      }
    },
    pop() {
      const [top] = entries;
      const last = entries.pop();
      if (entries.length > 0 && last) {
        entries[0] = last;
        let index = 0;
        for (;;) {
          const left = 2 * index + 1;
          const larger = rankAt(left + 1) > rankAt(left) ? left + 1 : left;
          if (rankAt(larger) <= rankAt(index)) break;
          swap(index, larger);
          index = larger;
        }
      }
      return top;
    },
  };
};

/** The best setting there is, as far as was looked. */
export interface Searched {
  readonly found: Found | null;
  /** How high a setting not looked at may rank at most; minus infinity where all is settled. */
  readonly openRank: number;
}

const settled = Number.NEGATIVE_INFINITY;

/**
 * As good as the best to a fiftieth of a dB, of which recipes tell tenths: enough, where knobs are so fine that there are more
 * settings of a filter than so many, and so many nodes have not settled it.
 */
export const closeEnoughDb = 0.02;
const mostExactSettings = 200_000;
const exactLooks = 1000;

/** Nodes between two looks for a good setting. */
const looksApart = 16;

const settingsIn = ({ f, w, g }: Box): number =>
  [f, w, g].reduce((product, [from, to]) => product * (to - from + 1), 1);

/** Filters on one lattice are looked at in one order only: two that change places make the same setting. */
const inOrder = (boxes: readonly Box[]): boolean =>
  boxes.every((box, index) => {
    const before = boxes[index - 1];
    if (!before || before.lattice !== box.lattice) return true;
    if (before.f[0] > box.f[1]) return false;
    if (!isSingle(before) || !isSingle(box) || before.f[0] !== box.f[0]) return true;
    return before.w[0] < box.w[0] || (before.w[0] === box.w[0] && before.g[0] <= box.g[0]);
  });

/** The place of the box to be halved next: of those that can be, the one whose bounds are loosest; -1 for none. */
const loosestOf = (boxes: readonly Box[]): number =>
  boxes.reduce((most, box, index) => {
    const known = boxes[most];
    return !isSingle(box) && (!known || box.slack > known.slack) ? index : most;
  }, -1);

/**
 * The best setting of any kind by a goal, or null where none holds what it must. `kinds` are the ways of giving out
 * slots: a box for each filter, the whole of its lattice.
 *
 * Branch and bound, best bound first, over all kinds together. A node is a box of settings for each filter; its outlook
 * never lies below what a setting inside comes to (see `outlookIn`). So once the best outlook left is below the best
 * setting found, nothing better is left. Nodes whose outlook equals it are still looked into, unless they lose by the
 * second figure, for ties are decided by the others. Where the work budget ends first, the best outlook left tells how
 * much better a setting might still be.
 */
export const search = (
  space: SearchSpace,
  kinds: readonly (readonly Box[])[],
  goal: Goal,
  known: Found | null = null,
): Searched => {
  const { work } = space;
  const isFine = kinds.some((boxes) => boxes.some((box) => settingsIn(box) > mostExactSettings));
  const outlookOf = outlookIn(space);
  const open = makeHeap<readonly Box[]>();
  let best = known;

  const consider = (boxes: readonly Box[]): void => {
    if (!inOrder(boxes)) return;
    work.left -= nodeWork;
    const outlook = outlookOf(boxes);
    if (!outlook || !goal.isWithin(outlook) || (best && !mayBetter(outlook, best, goal))) return;
    open.push(goal.rank(outlook), boxes);
  };

  for (const kind of kinds) consider(kind);
  let looks = 0;
  for (let next = open.pop(); next; next = open.pop()) {
    const aheadDb = best ? next.rank - goal.rank(best) : Number.POSITIVE_INFINITY;
    if (aheadDb < -roundingDb) break;
    if (best && isFine && looks > exactLooks && aheadDb <= closeEnoughDb)
      return { found: best, openRank: next.rank };
    if (work.left < 0) return { found: best, openRank: next.rank };
    const boxes = next.item;
    const loosest = loosestOf(boxes);
    if (loosest < 0) {
      best = improvedBy(boxes, best, space, goal);
      continue;
    }
    // A look at the middle of the most promising node now and then, and round it, finds good settings early.
    looks++;
    if (looks % looksApart === 0) {
      const middle = improvedBy(boxes.map(space.singleAt), best, space, goal);
      best = middle && middle !== best ? refine(middle, space, goal) : middle;
    }
    for (const half of boxes[loosest]?.halves ?? []) consider(boxes.with(loosest, half));
  }
  return { found: best, openRank: settled };
};
