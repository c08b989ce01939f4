import type { QuantiserSpec } from '../../quantisers/quantiser.js';
import { itemAt } from '../../units/at.js';
import type { Interval } from '../reading.js';
import { type Line, narrowed, type Region, valueExtent } from '../region.js';
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
  /** Ways of saying a region, between two places counted in clicks. */
  say(region: Region, first: number, last: number, evidence: KnobEvidence): readonly Saying[];
}

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
    return say(leaf.region, first, last, evidence).map((saying) => ({ ...saying, leaf, first, last }));
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
      const below: number[] = [];
      const above: number[] = [];
      for (const { region } of leaves) {
        for (const line of region) {
          const clicks = (at - line.base) / line.step;
          const [down, up] = [Math.ceil(clicks - 1e-9) - 1, Math.floor(clicks + 1e-9) + 1];
          const put = (list: number[], place: number) => {
            if (isInside(place)) list.push(scale.from(line.base + place * line.step));
          };
          put(below, Math.min(down, top ?? down));
          put(above, Math.max(up, bottom ?? up));
        }
      }
      const hull = (list: readonly number[]) =>
        list.length === 0 ? null : { least: Math.min(...list), most: Math.max(...list) };
      const place = Math.round((at - base) / step);
      return {
        below: hull(below),
        at: isInside(place) && Math.abs(valueOn(place) - value) < 1e-9 * Math.abs(value),
        above: hull(above),
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
  const { shapes, areMore } = placedShapes(evidence, sayer.scale);
  return { explanations: shapes.flatMap((shape) => explanationOf(shape, sayer, evidence) ?? []), areMore };
};

/** Where a value may lie on a region, at a place, on the scale of values. */
export const openValues = (region: Region, clicks: number, scale: StepScale): Interval => {
  const { least, most } = valueExtent(region, clicks);
  return { least: scale.from(least), most: scale.from(most) };
};
