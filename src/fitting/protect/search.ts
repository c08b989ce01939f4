import { type Box, isSingle } from './box.js';
import { evaluate, type Found } from './evaluate.js';
import { makeHeap } from './heap.js';
import type { HighCut } from './high-cuts.js';
import { boxesLooks, guardBandLooks } from './patience.js';
import { promisingIn } from './promise.js';
import { latticeChoices, slotsSuffice } from './slots.js';
import { equalDb, isBetter, tieSoFar } from './solution.js';
import type { SearchSpace } from './space.js';

/** A box for each cut, and the high cuts that together with them may still come to something. */
interface Node {
  readonly boxes: readonly Box[];
  readonly highCuts: readonly HighCut[];
}

/** The best setting there is, as far as was looked. */
export interface Searched {
  readonly found: Found | null;
  /** The most a setting not looked at may reach at the pilot; -Infinity where all is settled. */
  readonly openDb: number;
}

export interface SearchOptions {
  /** A setting found otherwise, to begin with. */
  readonly known?: Found | null;
  /** Whether any setting within the limits is enough. */
  readonly anyWillDo?: boolean;
}

/** Cuts on one lattice are looked at in one order only: two that change places make the same setting. */
const inOrder = (boxes: readonly Box[]): boolean =>
  boxes.every((box, index) => {
    const before = boxes[index - 1];
    if (!before || before.lattice !== box.lattice) return true;
    if (before.f[0] > box.f[1]) return false;
    if (!isSingle(before) || !isSingle(box) || before.f[0] !== box.f[0]) return true;
    return before.w[0] < box.w[0] || (before.w[0] === box.w[0] && before.g[0] <= box.g[0]);
  });

/** The place of the box to be halved next: of those that can be, the one whose bounds are loosest. */
const loosestOf = (boxes: readonly Box[]): number =>
  boxes.reduce((most, box, index) => {
    const known = boxes[most];
    return !isSingle(box) && (!known || box.slack > known.slack) ? index : most;
  }, -1);

/**
 * The best setting of so many cuts round the pilot, or null where none keeps within the limits.
 *
 * Branch and bound, best bound first. A node is a box of settings for each cut; its bound is the most that any
 * high cut together with the boxes' own bounds could give at some points of the pilot's window, among those
 * high cuts that with the least the boxes can take keep within the limit at some points of the keep band, and whose
 * hump the most the boxes can take would hide. It never lies below what a setting inside reaches: fewer points
 * than the window has can only raise the least over them, limits left unchecked can only let more in, and
 * boxes are bounded by their corners (see `box-bounds.ts`). So once the best bound left is below the best
 * setting found, nothing better is left. Nodes whose bound equals it are still looked into, unless they lose
 * more, for ties are decided by the other figures. Where patience ends first, the best bound left tells how much
 * a setting might still reach.
 */
export const search = (
  space: SearchSpace,
  cutCount: number,
  { known = null, anyWillDo = false }: SearchOptions = {},
): Searched => {
  const { patience } = space;
  const promising = promisingIn(space);
  const open = makeHeap<Node>();
  let best = known;

  const consider = (boxes: readonly Box[], from: readonly HighCut[]): void => {
    if (!inOrder(boxes)) return;
    patience.left -= boxesLooks + from.length;
    const { highCuts, reachDb } = promising(boxes, from, best);
    if (highCuts.length > 0) open.push(reachDb, { boxes, highCuts });
  };

  const settle = ({ boxes, highCuts }: Node): void => {
    for (const highCut of promising(boxes, highCuts, best).highCuts) {
      const floorDb = best ? best.pilotAttenuationDb - equalDb : Number.NEGATIVE_INFINITY;
      const found = evaluate(highCut, boxes, space, floorDb);
      if (!found) continue;
      if (best && tieSoFar(found, best)) patience.left -= guardBandLooks * space.realisations.length;
      if (!best || isBetter(found, best)) best = found;
    }
  };

  const branch = ({ boxes, highCuts }: Node): void => {
    const loosest = loosestOf(boxes);
    for (const half of boxes[loosest]?.halves ?? []) consider(boxes.with(loosest, half), highCuts);
  };

  for (const lattices of latticeChoices(space.pilotCuts, cutCount)) {
    consider(
      lattices.flatMap((lattice) => space.roots.get(lattice) ?? []),
      space.allHighCuts.filter(({ lattice }) => slotsSuffice(lattice ? [lattice, ...lattices] : lattices)),
    );
  }
  for (let next = open.pop(); next; next = open.pop()) {
    if (best && (anyWillDo || next.rank < best.pilotAttenuationDb - equalDb)) break;
    if (patience.left < 0) return { found: best, openDb: next.rank };
    if (next.item.boxes.every(isSingle)) settle(next.item);
    else branch(next.item);
  }
  return { found: best, openDb: Number.NEGATIVE_INFINITY };
};
