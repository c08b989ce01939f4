import { type Box, isSingle } from './box.js';
import type { BoxBounds } from './box-bounds.js';
import { type Evaluator, type Found, makeEvaluator } from './evaluate.js';
import { makeHeap } from './heap.js';
import type { HighCut } from './high-cuts.js';
import { equalDb, isBetter } from './solution.js';
import { latticeChoices, type SearchSpace, slotsSuffice, sumOfBounds } from './space.js';

interface Node {
  readonly boxes: readonly Box[];
  readonly highCuts: readonly HighCut[];
}

/** The best setting there is, and by how much at most a better one may have been missed: 0 where none was. */
export interface Searched {
  readonly found: Found | null;
  readonly missedAtMostDb: number;
}

/** Where a search gives up proving, in high cuts looked at: a few seconds of work. */
const mostLooks = 15_000_000;

/** Cuts on one lattice are looked at in one order only: two that change places make the same setting. */
const inOrder = (boxes: readonly Box[]): boolean =>
  boxes.every((box, index) => {
    const before = boxes[index - 1];
    if (!before || before.lattice !== box.lattice) return true;
    if (before.f[0] > box.f[1]) return false;
    if (!isSingle(before) || !isSingle(box) || before.f[0] !== box.f[0]) return true;
    return before.w[0] < box.w[0] || (before.w[0] === box.w[0] && before.g[0] <= box.g[0]);
  });

/** The most a high cut together with boxes may reach at the window's points; -Infinity past a limit. */
const boundWith = (
  highCut: BoxBounds,
  boxes: BoxBounds,
  keepLimitDb: number,
  riseLimitDb: number,
): number => {
  let least = Number.POSITIVE_INFINITY;
  for (let r = 0; r < boxes.atKeepEndDb.length; r++) {
    if ((boxes.atKeepEndDb[r] as number) + (highCut.atKeepEndDb[r] as number) > keepLimitDb) {
      return Number.NEGATIVE_INFINITY;
    }
    const rises = boxes.atRiseDb[r] as readonly number[];
    for (let p = 0; p < rises.length; p++) {
      if ((rises[p] as number) + ((highCut.atRiseDb[r] as readonly number[])[p] as number) < -riseLimitDb) {
        return Number.NEGATIVE_INFINITY;
      }
    }
    const ours = boxes.inWindowDb[r] as readonly number[];
    const theirs = highCut.inWindowDb[r] as readonly number[];
    for (let p = 0; p < ours.length; p++)
      least = Math.min(least, (ours[p] as number) + (theirs[p] as number));
  }
  return least;
};

/**
 * The best setting of so many cuts round the pilot, or null where none keeps within the limits. `known` is a
 * setting found otherwise, to begin with.
 *
 * Branch and bound, best bound first. A node is a box of settings for each cut; its bound is the most that any
 * high cut together with the boxes' own bounds could give at three points of the pilot's window, among those
 * high cuts that with the least the boxes can take leave the end of the keep band within its limit, and whose
 * hump the most the boxes can take would hide. It never lies below what a setting inside reaches: fewer points
 * than the window has can only raise the least over them, limits left unchecked can only let more in, and
 * boxes are bounded by their corners (see `box-bounds.ts`). So once the best bound left is below the best
 * setting found, nothing better is left. Nodes whose bound equals it are still looked into, for ties are
 * decided by the other figures. Where `mostLooks` do not settle it, the best bound left tells how
 * much better a setting might still be.
 */
export const search = (
  space: SearchSpace,
  cutCount: number,
  known: Found | null = null,
  evaluator: Evaluator = makeEvaluator(space),
): Searched => {
  const { scope, fixed, realisations, fixedQuick } = space;
  const keepLimitDb = space.keepLossAtMostDb + equalDb;
  const riseLimitDb = scope.riseAtMostDb + equalDb;
  let best = known;
  let looks = 0;
  const floor = (): number => (best ? best.pilotAttenuationDb - equalDb : Number.NEGATIVE_INFINITY);

  const open = makeHeap<Node>();
  const consider = (boxes: readonly Box[], highCuts: readonly HighCut[]): void => {
    if (!inOrder(boxes)) return;
    looks += highCuts.length;
    const together = sumOfBounds([fixedQuick, ...boxes.map(({ bounds }) => bounds)]);
    let bound = Number.NEGATIVE_INFINITY;
    const promising: HighCut[] = [];
    for (const highCut of highCuts) {
      const reach = boundWith(highCut.quick, together, keepLimitDb, riseLimitDb);
      if (reach < floor() || reach === Number.NEGATIVE_INFINITY) continue;
      promising.push(highCut);
      bound = Math.max(bound, reach);
    }
    if (promising.length > 0) open.push(bound, { boxes, highCuts: promising });
  };

  const settle = ({ boxes, highCuts }: Node): void => {
    for (const highCut of highCuts) {
      const found = evaluator.evaluate(highCut, boxes, floor());
      if (found && (!best || isBetter(found, best, fixed, realisations, scope))) best = found;
    }
  };

  const branch = ({ boxes, highCuts }: Node): void => {
    const loosest = boxes.reduce(
      (most, box, index) => (box.slack > (boxes[most] as Box).slack ? index : most),
      0,
    );
    for (const half of (boxes[loosest] as Box).halves) {
      consider(
        boxes.map((box, index) => (index === loosest ? half : box)),
        highCuts,
      );
    }
  };

  for (const lattices of latticeChoices(space.pilotCuts, cutCount)) {
    consider(
      lattices.flatMap((lattice) => space.roots.get(lattice) ?? []),
      space.allHighCuts.filter(({ lattice }) => slotsSuffice(lattice, lattices)),
    );
  }
  for (let next = open.pop(); next && next.rank >= floor() - equalDb; next = open.pop()) {
    if (looks > mostLooks && best) return { found: best, missedAtMostDb: Math.max(0, next.rank - floor()) };
    if (next.item.boxes.every(isSingle)) settle(next.item);
    else branch(next.item);
  }
  return { found: best, missedAtMostDb: 0 };
};
