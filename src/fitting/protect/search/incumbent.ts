import { nearestStep } from '../../../quantisers/snap.js';
import { itemAt } from '../../../units/at.js';
import type { Box } from '../bounds/box.js';
import type { Side } from '../bounds/extent.js';
import { type Axis, flattestQ, type Lattice } from '../space/lattice.js';
import { evaluate, type Found, improvedBy, outlookIn } from './evaluate.js';
import { type Goal, mayBetter, mostAttenuation, mostAttenuationTowards } from './goal.js';
import type { SearchSpace } from './search-space.js';

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
  const single = itemAt(singles, filter);
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
    best = improvedBy(singles, best, space, goal) ?? best;
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

/** The place on an axis whose values rise that is nearest by ratio. */
const nearestTo = (value: number, axis: Axis): number =>
  nearestStep(axis, value, { measure: 'ratio', tie: 'up' });

/** The width at which a high cut falls latest and does not rise before. */
const gentleWidth = ({ slotType, width }: Lattice): number =>
  slotType.type === 'lowpass' && slotType.grids.q ? nearestTo(flattestQ, width) : width.count - 1;

/** A setting that costs the music little: narrow, deep cuts at the pilot beside the highest and shallowest high cut. */
const gentleSetting = (kind: readonly Lattice[], space: SearchSpace): readonly Box[] =>
  kind.map((lattice) => {
    const { frequency, width, gain } = lattice;
    const isHighCut = space.candidates.highCuts.includes(lattice);
    const f = isHighCut ? frequency.count - 1 : nearestTo(space.scope.pilotHz, frequency);
    const w = isHighCut ? gentleWidth(lattice) : width.count - 1;
    const g = isHighCut ? 0 : gain.count - 1;
    return space.singleAt({ lattice, f: [f, f], w: [w, w], g: [g, g] });
  });

/** A setting whose filters are unlike: one low, wide and deep beside one high, narrow and shallow, in turn. */
const unlikeSetting = (kind: readonly Lattice[], space: SearchSpace): readonly Box[] =>
  kind.map((lattice, index) => {
    const isLow = index % 2 === 0;
    const at = ({ count }: Axis, isEarly: boolean) => {
      const step = Math.round((count - 1) * (isEarly ? 1 / 4 : 3 / 4));
      return [step, step] as const;
    };
    const { frequency, width, gain } = lattice;
    return space.singleAt({
      lattice,
      f: at(frequency, isLow),
      w: at(width, isLow),
      g: at(gain, !isLow),
    });
  });

/** Beyond so many cuts there are too many kinds to begin each of them twice, and fine knobs take too long to turn. */
const mostUnlike = 2;
const mostSettings = 200_000;

const isCoarse = ({ frequency, width, gain }: Lattice): boolean =>
  frequency.count * width.count * gain.count <= mostSettings;

/** The best that is reached from a setting or two of each kind by turning knobs: to begin a search of several cuts with. */
export const incumbentsOf = (
  kinds: readonly (readonly Lattice[])[],
  count: number,
  space: SearchSpace,
  goal: Goal,
) =>
  kinds.flatMap((kind) => {
    const gentle = evaluate(gentleSetting(kind, space), space);
    const isTried = count <= mostUnlike && kind.every(isCoarse);
    const unlike = isTried ? evaluate(unlikeSetting(kind, space), space) : null;
    return [
      ...(gentle && gentle.keepLossDb <= goal.limitDb
        ? [refine(gentle, space, mostAttenuation(goal.limitDb))]
        : []),
      ...(unlike ? [refine(unlike, space, mostAttenuationTowards(goal.limitDb))] : []),
    ];
  });
