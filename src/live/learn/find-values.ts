import type { Learned } from '../../learning/learned.js';
import type { KnobReadings } from '../../learning/reading.js';
import type { Knob } from '../../model/knob.js';
import type { Quantiser, QuantiserSpec } from '../../quantisers/quantiser.js';
import { nearestStep } from '../../quantisers/snap.js';
import { makeQuantiser } from '../../quantisers/registry.js';
import { step } from '../../units/quantity.js';
import { type Beyond, findStop } from './find-stops.js';
import { type Ladder, makeLadder, type ToldValue } from './ladder.js';
import { type Climbing, findNeighbour } from './neighbours.js';
import { type Between, distance, type ProbedKnob, type Probing, placeBetween } from './probing.js';

/** From readings of a knob to the grids that explain them. */
export type Recognise = (readings: KnobReadings) => Learned;

/** A knob whose values a desk tells. */
export interface ValueKnob extends ProbedKnob {
  readonly knob: Knob;
  /** Values that it was seen at elsewhere on the same grid: other slots, before anything was written. */
  readonly seen: readonly number[];
  /** Where its neighbours matter most; null where nowhere more than elsewhere. */
  readonly near: number | null;
  /** What is told of a value: how it came, and where it may lie. */
  told(value: number): ToldValue;
  /** Whether its values are whole numbers, or texts: then keeping them as they are is a grid like any. */
  readonly isCoarse: boolean;
}

/** What was found out of the values of a knob. */
export interface ValuesFound {
  readonly readings: KnobReadings;
  /** The grid that explains them, the simplest first, each with its values as they are told. */
  readonly grids: readonly GridFound[];
  readonly beyond: { readonly bottom: Beyond; readonly top: Beyond } | null;
  /** How it takes what lies between two steps, where that was seen. */
  readonly between: Between | null;
  /** Values at places chosen at random that came as the first grid says, since the last that did not. */
  readonly right: number;
  /** All values that were seen, where every one was. */
  readonly isWhole: boolean;
  /** What kept it from being settled, as a sentence; null where nothing did. */
  readonly open: string | null;
}

export interface GridFound {
  readonly spec: QuantiserSpec;
  readonly grid: Quantiser;
}

/** So many right predictions in a row settle a grid. */
const enoughRight = 5;
/** So few steps are all looked at. */
const fewSteps = 8;
/** Looks at further places, each with its neighbour, before it is given up. */
const mostLooks = 16;

/** The grids that explain every reading, each made: what a desk answers is no slip that could be left out. */
export const gridsOf = ({ candidates, suspects }: Learned): readonly GridFound[] =>
  (suspects.length > 0 ? [] : candidates).flatMap(({ spec }) => {
    const grid = makeQuantiser(spec);
    return grid.ok ? [{ spec, grid: grid.value }] : [];
  });

/** The shortest decimal that arrives as a value. */
const shortest = (value: number, { asSent }: ProbedKnob): number => {
  for (let digits = 1; digits < 17; digits++) {
    const short = Number(value.toPrecision(digits));
    if (asSent(short) === value) return short;
  }
  return value;
};

/** Every value there is, from stop to stop. */
const everyFloat = (knob: ProbedKnob, least: number, most: number): readonly GridFound[] => {
  const ends = [
    [shortest(least, knob), shortest(most, knob)],
    [least, most],
  ];
  return ends
    .flatMap(([from, to]): GridFound[] => {
      const spec = { kind: 'continuous', from, to };
      const grid = makeQuantiser(spec);
      return grid.ok ? [{ spec, grid: grid.value }] : [];
    })
    .filter(({ grid }) => [0, grid.count - 1].every((end, at) => grid.valueAt(step(end)) === [least, most][at]))
    .slice(0, 1);
};

/** Whether a knob keeps what it is sent as it is, at so many places at random, and at two that are as near as can be. */
function* keepsAll(knob: ValueKnob, ladder: Ladder, [least, most]: readonly [number, number], random: () => number): Probing<number> {
  const places = Array.from({ length: enoughRight }, () => knob.asSent(placeBetween(knob, least, most, random())));
  const first = places[0] ?? least;
  let right = 0;
  for (const place of [...places, knob.next(first, 1)]) {
    const { value } = yield place;
    ladder.add(value);
    if (value !== place) return right;
    right++;
  }
  return right;
}

/** Where a knob comes to stand by a grid when it is sent a value, as it is told. */
const predicted = (
  { grid }: GridFound,
  { knob, between }: Climbing,
  value: number,
): number => {
  const nearest = nearestStep(grid, value, { measure: knob.measure, tie: 'up' });
  const at = grid.valueAt(nearest);
  if (between === 'below' && at > value && nearest > 0) return knob.asSent(grid.valueAt(step(nearest - 1)));
  if (between === 'above' && at < value && nearest < grid.count - 1)
    return knob.asSent(grid.valueAt(step(nearest + 1)));
  return knob.asSent(at);
};

/** Values that a desk's own arithmetic may tell apart. */
const isSame = (one: number, other: number): boolean =>
  Math.abs(one - other) <= 1e-6 * Math.max(Math.abs(one), Math.abs(other), 1e-9);

/** A place to try a grid at: a step at random, and beside it, where no other step is nearer. */
const placeOn = ({ grid }: GridFound, knob: ProbedKnob, random: () => number): number => {
  const index = Math.floor(random() * grid.count);
  const at = grid.valueAt(step(index));
  const next = index + 1 < grid.count ? grid.valueAt(step(index + 1)) : at;
  return knob.asSent(placeBetween(knob, at, next, 0.35));
};

/** A place where grids say different things, if one is found; else anywhere. */
const tellingPlace = (
  grids: readonly GridFound[],
  climbing: Climbing,
  random: () => number,
): number => {
  const [first] = grids;
  if (!first) throw new RangeError('no grid is left to try');
  let best = { place: placeOn(first, climbing.knob, random), kinds: 1 };
  for (let tried = 0; tried < 40 && grids.length > 1; tried++) {
    const place = placeOn(grids[tried % grids.length] ?? first, climbing.knob, random);
    const kinds = new Set(grids.slice(0, 12).map((grid) => predicted(grid, climbing, place))).size;
    if (kinds > best.kinds) best = { place, kinds };
  }
  return best.place;
};

/** Every step between two values, halving what lies between. */
function* allBetween(climbing: Climbing): Probing<void> {
  for (let count = 0; count < 4 * fewSteps; count++) {
    const [gap] = climbing.ladder.gaps();
    if (!gap) return;
    yield* findNeighbour(climbing, gap[0], 1);
  }
}

/** Looks where least is known: the middle of the widest gap, and the neighbour of what stands there. */
function* lookIntoWidestGap(climbing: Climbing): Probing<boolean> {
  const { knob, ladder } = climbing;
  const [widest] = [...ladder.gaps()].sort((a, b) => distance(knob, b[0], b[1]) - distance(knob, a[0], a[1]));
  if (!widest) return false;
  const { value } = yield knob.asSent(placeBetween(knob, widest[0], widest[1], 0.5));
  ladder.add(value);
  yield* findNeighbour(climbing, value, 1);
  return true;
}

/**
 * Finds the values of a knob: its stops, the neighbours of the place that matters most, and what explains them; then
 * what that says of places at random, until so many came right in a row. What came otherwise is one more reading.
 */
export function* findValues(
  knob: ValueKnob,
  recognise: Recognise,
  random: () => number,
): Probing<ValuesFound> {
  const ladder = makeLadder();
  for (const value of [knob.standing, ...knob.seen]) ladder.add(value);
  const found = (
    rest: Partial<Omit<ValuesFound, 'readings'>> & { readonly open: string | null },
  ): ValuesFound => ({
    readings: ladder.readings(knob.knob, knob.told),
    grids: [],
    beyond: null,
    between: null,
    right: 0,
    isWhole: false,
    ...rest,
  });
  const top = yield* findStop(knob, 'top', ladder);
  const bottom = top === null ? null : yield* findStop(knob, 'bottom', ladder);
  if (top === null || bottom === null) return found({ open: 'It stays where it is, whatever it is sent.' });
  const beyond = { bottom, top };
  if (top === 'endless' || bottom === 'endless')
    return found({ beyond, open: 'It takes values beyond any stop as they are, so that no end was found.' });
  const [least, most] = [ladder.stopAt('bottom') ?? 0, ladder.stopAt('top') ?? 0];
  const climbing: Climbing = { knob, ladder, spacing: distance(knob, least, most) / 40, between: null, echoes: false };

  const stray = knob.asSent(placeBetween(knob, least, most, 0.3 + 0.4 * random()));
  const middle = yield stray;
  ladder.add(middle.value);
  climbing.echoes = middle.value === stray;
  if (climbing.echoes && !knob.isCoarse) {
    const right = yield* keepsAll(knob, ladder, [least, most], random);
    if (right > enoughRight)
      return found({ beyond, grids: everyFloat(knob, least, most), right, open: null });
  }
  const near = knob.near !== null && knob.near > least && knob.near < most ? knob.near : null;
  const centre = near === null ? middle.value : (yield knob.asSent(near)).value;
  ladder.add(centre);
  const up = yield* findNeighbour(climbing, centre, 1);
  if (up !== null) yield* findNeighbour(climbing, up, 1);
  yield* findNeighbour(climbing, centre, -1);
  if (!climbing.echoes && distance(knob, least, most) / climbing.spacing <= fewSteps) yield* allBetween(climbing);
  if (ladder.gaps().length > 0 && !ladder.isLinked(least, 1)) yield* findNeighbour(climbing, least, 1);

  let right = 0;
  for (let looks = 0; looks < mostLooks; ) {
    const grids = gridsOf(recognise(ladder.readings(knob.knob, knob.told)));
    if (ladder.gaps().length === 0) return found({ beyond, between: climbing.between, grids, isWhole: true, open: null });
    while (grids[0] && right < enoughRight) {
      const place = tellingPlace(grids, climbing, random);
      const { value } = yield place;
      if (!isSame(value, predicted(grids[0], climbing, place))) {
        right = 0;
        looks++;
        ladder.add(value);
        if (!ladder.isLinked(value, 1)) yield* findNeighbour(climbing, value, 1);
        break;
      }
      right++;
    }
    if (grids[0] && right >= enoughRight) return found({ beyond, between: climbing.between, grids, right, open: null });
    if (!grids[0]) {
      looks++;
      if (!(yield* lookIntoWidestGap(climbing))) break;
    }
  }
  return found({ beyond, open: 'No grid that is known here explains the values that were read.' });
}
