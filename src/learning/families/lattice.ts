import type { QuantiserSpec } from '../../quantisers/quantiser.js';
import { itemAt } from '../../units/at.js';
import type { Interval } from '../reading.js';
import { extentOf, type Line, narrowed, type Region, valueExtent } from '../region.js';
import { costOfCount, type Explained, type Explanation, type KnobEvidence } from './family.js';
import { type PlacedShape, placedShapes, placesOf, type StepScale } from './placing.js';

/** One way of saying a lattice: the line it is exactly, and what speaks for it. */
export interface Saying {
  /** Made when it is asked for: of many sayings one is kept. */
  spec(): QuantiserSpec;
  readonly line: Line;
  readonly complexity: number;
  readonly reasons: readonly string[];
}

/** How a family says what a region holds. */
export interface Sayer {
  readonly scale: StepScale;
  /** Whether only what can be said exists: round steps. Else the sayings are the simplest of all that is possible. */
  readonly saysAll: boolean;
  /** The only steps there are in an interval, where that is so. */
  stepsIn?(steps: Interval, evidence: KnobEvidence): readonly number[];
  /** Ways of saying a region, between two places counted in clicks. */
  say(region: Region, first: number, last: number, evidence: KnobEvidence): readonly Saying[];
}

const widened = (interval: Interval | null, least: number, most: number): Interval =>
  interval === null
    ? { least, most }
    : { least: Math.min(interval.least, least), most: Math.max(interval.most, most) };

const endOf = (region: Region, clicks: number): readonly [number, number] => {
  const { least, most } = valueExtent(region, clicks);
  return [least, most];
};

/** More places than these are taken for one, of which nothing is known but on which side it is. */
const mostBeside = 40;

/** The places that may be the next below a value, or above it, each with where its value lies then. */
const placesBeside = (
  region: Region,
  value: number,
  side: -1 | 1,
): readonly (Interval & { readonly place: number })[] => {
  let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { base, step } of region) {
    const clicks = (value - base) / step;
    const place = side < 0 ? Math.ceil(clicks - 1e-9) - 1 : Math.floor(clicks + 1e-9) + 1;
    first = Math.min(first, place);
    last = Math.max(last, place);
  }
  if (first === last) return [{ place: first, ...valueExtent(region, first) }];
  if (last - first >= mostBeside) {
    const { most } = extentOf(region, ({ step }) => step);
    return [
      {
        place: first,
        least: Math.min(value, value + side * most),
        most: Math.max(value, value + side * most),
      },
    ];
  }
  const [lowest, greatest] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const [near, beyond] = [
    { least: lowest, most: value },
    { least: value, most: greatest },
  ];
  return Array.from({ length: last - first + 1 }, (_, at) => first + at).flatMap((place) => {
    // Next below: it is not above, and the one above it is not below.
    const left = narrowed(
      narrowed(region, place, side < 0 ? near : beyond),
      place - side,
      side < 0 ? beyond : near,
    );
    return left.length === 0 ? [] : [{ place, ...valueExtent(left, place) }];
  });
};

/** So near to the edge of what a display may stand for is on it, as a share of that. */
const onEdge = 1e-6;

/**
 * Whether a line has what was read. Where each click adds whole units of the last digit, and each value lies on the edge
 * between two, a screen takes all of them up, or all down.
 */
const isWhatWasRead = (
  { base, step }: Line,
  places: readonly number[],
  { chains }: KnobEvidence,
): boolean => {
  const sides = new Set<string>();
  for (const {
    at,
    interval: { least, most },
  } of chains.flat()) {
    const value = base + itemAt(places, at) * step;
    const loose = 1e-12 * Math.abs(value);
    if (value < least - loose || value > most + loose) return false;
    const unit = most - least;
    const steps = step / unit;
    if (Math.abs(steps - Math.round(steps)) > onEdge * steps) continue;
    if (value - least < onEdge * unit) sides.add('low');
    if (most - value < onEdge * unit) sides.add('high');
  }
  return sides.size < 2;
};

/** Where so many steps or more may show a value, one of them does. */
const mostStepsTried = 8;

/** What a shape is as an explanation; null where there is no way of saying it. */
const explanationOf = (
  { key, bottom, top, leaves: all }: PlacedShape,
  { scale, saysAll, say }: Sayer,
  evidence: KnobEvidence,
): Explanation | null => {
  const sayings = all.flatMap((leaf) => {
    const [first, last] = [bottom ?? Math.min(...leaf.places), top ?? Math.max(...leaf.places)];
    return say(leaf.region, first, last, evidence)
      .filter(({ line }) => !saysAll || isWhatWasRead(line, leaf.places, evidence))
      .map((saying) => ({ ...saying, leaf, first, last }));
  });
  const [said] = sayings.sort((a, b) => a.complexity - b.complexity);
  if (!said) return null;
  const leaves = saysAll ? sayings.map(({ line, leaf: { places } }) => ({ region: [line], places })) : all;
  const { base, step } = said.line;
  const valueOn = (clicks: number) => scale.from(base + clicks * step);
  const isInside = (clicks: number) =>
    (bottom === null || clicks >= bottom) && (top === null || clicks <= top);
  const admitted = (region: Region, clicks: number, interval: Interval) =>
    isInside(clicks) && narrowed(region, clicks, interval).length > 0;
  return {
    key,
    spec: said.spec(),
    count: bottom === null || top === null ? null : top - bottom + 1,
    openEnds: [
      ...(bottom === null ? (['bottom'] as const) : []),
      ...(top === null ? (['top'] as const) : []),
    ],
    complexity: said.complexity + costOfCount(said.last - said.first + 1),
    reasons: said.reasons,
    neighboursOf: (value) => {
      const at = scale.to(value);
      let [below, above]: [Interval | null, Interval | null] = [null, null];
      for (const { region } of leaves) {
        for (const { place, least, most } of placesBeside(region, at, -1)) {
          if (isInside(place)) below = widened(below, least, most);
          else if (top !== null && place > top) below = widened(below, ...endOf(region, top));
        }
        for (const { place, least, most } of placesBeside(region, at, 1)) {
          if (isInside(place)) above = widened(above, least, most);
          else if (bottom !== null && place < bottom) above = widened(above, ...endOf(region, bottom));
        }
      }
      const valuesIn = (scaled: Interval | null) =>
        scaled && { least: scale.from(scaled.least), most: scale.from(scaled.most) };
      const place = Math.round((at - base) / step);
      return {
        below: valuesIn(below),
        at: isInside(place) && Math.abs(valueOn(place) - value) < 1e-9 * Math.abs(value),
        above: valuesIn(above),
      };
    },
    admits: (interval, from) => {
      const scaled = { least: scale.to(interval.least), most: scale.to(interval.most) };
      if (!Number.isFinite(scaled.least) || !Number.isFinite(scaled.most)) return false;
      return leaves.some(({ region, places }) => {
        if (from) return admitted(region, itemAt(places, from.at) + from.clicks, scaled);
        const where = placesOf(region, { at: 0, clicks: 0, stop: null, interval: scaled });
        if (where.most - where.least > mostStepsTried) return true;
        for (let clicks = where.least; clicks <= where.most; clicks++) {
          if (admitted(region, clicks, scaled)) return true;
        }
        return false;
      });
    },
    valueFrom: ({ at, clicks }) => {
      const place = itemAt(said.leaf.places, at) + clicks;
      return isInside(place) ? valueOn(place) : null;
    },
    valueNear: (value) => {
      const clicks = Math.round((scale.to(value) - base) / step);
      return valueOn(Math.max(said.first, Math.min(clicks, said.last)));
    },
  };
};

/** Every lattice of a scale that explains what was read. Nothing where no reading is a counted click from another. */
export const explainLattice = (evidence: KnobEvidence, sayer: Sayer): Explained => {
  const { shapes, areMore } = placedShapes(
    evidence,
    sayer.scale,
    sayer.stepsIn && ((steps) => sayer.stepsIn?.(steps, evidence) ?? []),
  );
  return { explanations: shapes.flatMap((shape) => explanationOf(shape, sayer, evidence) ?? []), areMore };
};

/** Where a value may lie on a region, at a place, on the scale of values. */
export const openValues = (region: Region, clicks: number, scale: StepScale): Interval => {
  const { least, most } = valueExtent(region, clicks);
  return { least: scale.from(least), most: scale.from(most) };
};
