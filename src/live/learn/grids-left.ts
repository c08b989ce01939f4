import type { Learned } from '../../learning/learned.js';
import type { KnobReadings } from '../../learning/reading.js';
import type { Knob } from '../../model/knob.js';
import type { Quantiser, QuantiserSpec } from '../../quantisers/quantiser.js';
import { makeQuantiser } from '../../quantisers/registry.js';
import { nearestStep } from '../../quantisers/snap.js';
import { step } from '../../units/quantity.js';
import type { Beyond } from './find-stops.js';
import type { Ladder, ToldValue } from './ladder.js';
import type { Climbing } from './neighbours.js';
import { type Between, type ProbedKnob, placeBetween } from './probing.js';

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
  toldAsWhole(value: number): ToldValue | null;
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

/** The grids that explain every reading, each made: what a desk answers is no slip that could be left out. */
export const gridsExplaining = ({ candidates, suspects }: Learned): readonly GridFound[] =>
  (suspects.length > 0 ? [] : candidates).flatMap(({ spec }) => {
    const grid = makeQuantiser(spec);
    return grid.ok ? [{ spec, grid: grid.value }] : [];
  });

/** The grids that explain what was read: as the values themselves, or else as whole numbers made of them. */
export const explaining = (knob: ValueKnob, ladder: Ladder, recognise: Recognise): readonly GridFound[] => {
  const grids = gridsExplaining(recognise(ladder.readings(knob.knob, knob.told)));
  if (grids.length > 0 || knob.toldAsWhole(knob.standing) === null) return grids;
  const asWhole = (value: number): ToldValue => knob.toldAsWhole(value) ?? knob.told(value);
  return gridsExplaining(recognise(ladder.readings(knob.knob, asWhole)));
};

/** Where a knob comes to stand by a grid when it is sent a value, as it is told. */
export const predicted = ({ grid }: GridFound, { knob, between }: Climbing, value: number): number => {
  const nearest = nearestStep(grid, value, { measure: knob.measure, tie: 'up' });
  const at = grid.valueAt(nearest);
  if (between === 'below' && at > value && nearest > 0) return knob.asSent(grid.valueAt(step(nearest - 1)));
  if (between === 'above' && at < value && nearest < grid.count - 1)
    return knob.asSent(grid.valueAt(step(nearest + 1)));
  return knob.asSent(at);
};

/** Values that a desk's own arithmetic may tell apart. */
export const isSame = (one: number, other: number): boolean =>
  Math.abs(one - other) <= 1e-6 * Math.max(Math.abs(one), Math.abs(other), 1e-9);

/** A place to try a grid at: a step at random, and beside it, where no other step is nearer. */
export const placeOn = ({ grid }: GridFound, knob: ProbedKnob, random: () => number): number => {
  const index = Math.floor(random() * grid.count);
  const at = grid.valueAt(step(index));
  const next = index + 1 < grid.count ? grid.valueAt(step(index + 1)) : at;
  return knob.asSent(placeBetween(knob, at, next, 0.35));
};

/** Grids of so many steps are compared step by step; of larger ones so many steps, spread evenly. */
const mostCompared = 20_000;

/** Values at which two grids make a knob stand at different steps: none where they are one grid said in two ways. */
export const differences = (first: GridFound, other: GridFound, climbing: Climbing): readonly number[] => {
  const { asSent } = climbing.knob;
  const places = (from: GridFound, to: GridFound): readonly number[] => {
    const { count } = from.grid;
    const stride = Math.max(1, Math.floor(count / mostCompared));
    const found: number[] = [];
    for (let index = 0; index < count && found.length < 100; index += stride) {
      const value = asSent(from.grid.valueAt(step(index)));
      if (!isSame(predicted(to, climbing, value), value)) found.push(value);
    }
    return found;
  };
  return [...places(other, first), ...places(first, other)];
};

/** A place that tells the first grid from another one that explains all readings; null where all others are the same. */
export const tellingPlace = (grids: readonly GridFound[], climbing: Climbing): number | null => {
  const [first, ...others] = grids;
  if (!first) return null;
  for (const other of others) {
    const places = differences(first, other, climbing);
    // Of a stretch where they differ the middle tells most of where it begins and ends.
    if (places.length > 0) return [...places].sort((a, b) => a - b)[places.length >> 1] ?? null;
  }
  return null;
};
