import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { type Box, isSingle, longestSide, wholeBox } from './box.js';
import type { BoundPoints } from './box-bounds.js';
import { makeHeap } from './heap.js';
import { type HighCut, highCuts, type QuickLook, quickLook } from './high-cuts.js';
import { filterAt, type Lattice, stepsAt } from './lattice.js';
import {
  type Attenuations,
  attenuationsOf,
  inKeepBand,
  inRiseBand,
  inWindow,
  leastOfSum,
  mostOfSum,
  pointsOf,
} from './points.js';
import type { SlotClass } from './slot-classes.js';
import { equalDb, isBetter, type Solution } from './solution.js';

/** What is searched: lattices for the high cut and for the cuts round the pilot, and what stays as it is. */
export interface SearchSpace {
  readonly highCuts: readonly Lattice[];
  readonly pilotCuts: readonly Lattice[];
  /** How many cuts round the pilot there are to be. */
  readonly cutCount: number;
  readonly fixed: readonly Filter[];
  readonly realisations: readonly Realisation[];
  readonly scope: GuardScope;
  readonly keepLossAtMostDb: number;
}

/** A setting found, and where each of its filters stands on its lattice. */
export interface Found extends Solution {
  readonly highCut: HighCut;
  readonly cuts: readonly Box[];
}

interface Node {
  readonly boxes: readonly Box[];
  readonly highCuts: readonly HighCut[];
}

const usable = ({ highCut, cuts }: { highCut: Lattice | null; cuts: readonly Lattice[] }): boolean => {
  const wanted = new Map<SlotClass, number>();
  for (const { slotClass } of [...(highCut ? [highCut] : []), ...cuts]) {
    wanted.set(slotClass, (wanted.get(slotClass) ?? 0) + 1);
  }
  return [...wanted].every(([slotClass, count]) => count <= slotClass.slots.length);
};

/** Every way of giving the cuts a lattice each, order left aside. */
const choices = (lattices: readonly Lattice[], count: number): readonly (readonly Lattice[])[] =>
  count === 0
    ? [[]]
    : lattices.flatMap((lattice, index) =>
        choices(lattices.slice(index), count - 1).map((rest) => [lattice, ...rest]),
      );

/** Cuts on one lattice are looked at in one order only: two that change places make the same setting. */
const inOrder = (boxes: readonly Box[]): boolean =>
  boxes.every((box, index) => {
    const before = boxes[index - 1];
    if (!before || before.lattice !== box.lattice) return true;
    if (before.f[0] > box.f[1]) return false;
    if (!isSingle(before) || !isSingle(box) || before.f[0] !== box.f[0]) return true;
    return before.w[0] < box.w[0] || (before.w[0] === box.w[0] && before.g[0] <= box.g[0]);
  });

const boundPointsOf = (realisations: readonly Realisation[], { pilotHz, windowHz, keepHighHz }: GuardScope) =>
  realisations.map(
    (realisation): BoundPoints => ({
      realisation,
      windowHz: windowHz === 0 ? [pilotHz] : [pilotHz - windowHz, pilotHz, pilotHz + windowHz],
      keepHighHz,
    }),
  );

const addUp = (looks: readonly QuickLook[], fixed: QuickLook): QuickLook => ({
  inWindowDb: fixed.inWindowDb.map((window, r) =>
    window.map((takes, p) => looks.reduce((sum, look) => sum + (look.inWindowDb[r]?.[p] ?? 0), takes)),
  ),
  atKeepEndDb: fixed.atKeepEndDb.map((takes, r) =>
    looks.reduce((sum, look) => sum + (look.atKeepEndDb[r] ?? 0), takes),
  ),
});

/**
 * The best setting of all, or null where none keeps within the limits.
 *
 * Branch and bound, best bound first. A node is a box of settings for each cut round the pilot; its bound is
 * the most that any high cut together with the corners of the boxes could give at three points of the pilot's
 * window, among those high cuts that with the least the boxes can take leave the end of the keep band within
 * its limit. It never lies below what a setting inside reaches: fewer points than the window has can only
 * raise the least over them, limits left unchecked can only let more in, leaving realisations out can only
 * raise the worst over them, and the corners bound the boxes (see `boxBounds`). So once the best bound left is
 * below the best setting found, nothing better is left. Nodes whose bound equals it are still looked into,
 * for ties are decided by the other figures.
 */
export const search = (space: SearchSpace): Found | null => {
  const { realisations, scope, fixed } = space;
  const limitDb = space.keepLossAtMostDb + equalDb;
  const points = realisations.map((realisation) => pointsOf(realisation, scope));
  const boundPoints = boundPointsOf(realisations, scope);
  const fixedAttenuations = attenuationsOf(fixed, points);
  const fixedQuick = quickLook(fixed, boundPoints);
  const allHighCuts = highCuts(space.highCuts, points, boundPoints);
  let best: Found | null = null;

  const boundOf = (highCut: HighCut, sum: QuickLook): number => {
    let least = Number.POSITIVE_INFINITY;
    for (let r = 0; r < boundPoints.length; r++) {
      if ((sum.atKeepEndDb[r] as number) + (highCut.quick.atKeepEndDb[r] as number) > limitDb) {
        return Number.NEGATIVE_INFINITY;
      }
      const ours = sum.inWindowDb[r] as readonly number[];
      const theirs = highCut.quick.inWindowDb[r] as readonly number[];
      for (let p = 0; p < ours.length; p++)
        least = Math.min(least, (ours[p] as number) + (theirs[p] as number));
    }
    return least;
  };

  const sumOf = (boxes: readonly Box[]): QuickLook =>
    addUp(
      boxes.map(({ bounds }) => bounds),
      fixedQuick,
    );

  const cutCache = new Map<Lattice, Map<string, Attenuations>>();
  const cutAttenuations = ({ lattice, f, w, g }: Box): Attenuations => {
    const known = cutCache.get(lattice) ?? new Map<string, Attenuations>();
    cutCache.set(lattice, known);
    const key = `${f[0]} ${w[0]} ${g[0]}`;
    const attenuations = known.get(key) ?? attenuationsOf([filterAt(lattice, f[0], w[0], g[0])], points);
    known.set(key, attenuations);
    return attenuations;
  };

  const tryAll = ({ boxes, highCuts }: Node): void => {
    const boxSum = sumOf(boxes);
    const cuts = boxes.map(cutAttenuations);
    for (const highCut of highCuts) {
      const floor = best ? best.pilotAttenuationDb - equalDb : Number.NEGATIVE_INFINITY;
      const bound = boundOf(highCut, boxSum);
      if (bound === Number.NEGATIVE_INFINITY || bound + equalDb < floor) continue;
      const terms = [fixedAttenuations, highCut.attenuations(), ...cuts];
      const pilotAttenuationDb = leastOfSum(terms, points, inWindow);
      if (pilotAttenuationDb < floor) continue;
      const keepLossDb = mostOfSum(terms, points, inKeepBand);
      if (keepLossDb > limitDb) continue;
      if (-leastOfSum(terms, points, inRiseBand) > scope.riseAtMostDb + equalDb) continue;
      const found: Found = {
        filters: [
          ...(highCut.filter ? [highCut.filter] : []),
          ...boxes.map(({ lattice, f, w, g }) => filterAt(lattice, f[0], w[0], g[0])),
        ],
        pilotAttenuationDb,
        keepLossDb,
        steps: [
          ...Object.values(highCut.lattice ? stepsAt(highCut.lattice, ...highCut.at) : {}),
          ...boxes.flatMap(({ lattice, f, w, g }) => Object.values(stepsAt(lattice, f[0], w[0], g[0]))),
        ],
        highCut,
        cuts: boxes,
      };
      if (!best || isBetter(found, best, fixed, realisations, scope)) best = found;
    }
  };

  const open = makeHeap<Node>();
  const consider = (boxes: readonly Box[], highCuts: readonly HighCut[]): void => {
    if (!inOrder(boxes)) return;
    const boxSum = sumOf(boxes);
    let bound = Number.NEGATIVE_INFINITY;
    for (const highCut of highCuts) bound = Math.max(bound, boundOf(highCut, boxSum));
    if (bound > Number.NEGATIVE_INFINITY) open.push(bound, { boxes, highCuts });
  };

  const wholeBoxes = new Map(space.pilotCuts.map((lattice) => [lattice, wholeBox(lattice, boundPoints)]));
  for (const lattices of choices(space.pilotCuts, space.cutCount)) {
    const compatible = allHighCuts.filter(({ lattice }) => usable({ highCut: lattice, cuts: lattices }));
    consider(
      lattices.flatMap((lattice) => wholeBoxes.get(lattice) ?? []),
      compatible,
    );
  }
  for (let next = open.pop(); next; next = open.pop()) {
    const incumbent = best as Found | null;
    if (incumbent && next.rank < incumbent.pilotAttenuationDb - 2 * equalDb) break;
    const { boxes, highCuts } = next.item;
    if (boxes.every(isSingle)) {
      tryAll(next.item);
      continue;
    }
    const widest = boxes.reduce(
      (best, box, index) => (longestSide(box) > longestSide(boxes[best] as Box) ? index : best),
      0,
    );
    for (const half of (boxes[widest] as Box).halves()) {
      consider(
        boxes.map((box, index) => (index === widest ? half : box)),
        highCuts,
      );
    }
  }
  return best;
};
