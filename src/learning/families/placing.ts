import { itemAt } from '../../units/at.js';
import type { Chain, Placed } from '../chains.js';
import type { End, Interval } from '../reading.js';
import { extentOf, narrowed, type Region, through, withExactStep, withStepIn } from '../region.js';
import type { KnobEvidence } from './family.js';

/** Readings placed on equal steps: every way that contradicts none of them. */

/** On what scale the steps are equal: of the values themselves, or of their logarithms. */
export interface StepScale {
  readonly name: string;
  /** NaN for what the scale does not have. */
  to(value: number): number;
  from(scaled: number): number;
}

/** The readings placed, each so many clicks above the same place, and what that leaves of base and step. */
interface Leaf {
  readonly region: Region;
  readonly places: readonly number[];
}

/** More ways to place a stretch than these are not gone through, nor more in all, nor more leaves than these kept. */
const [mostPlaces, mostTried, mostLeaves] = [400, 2500, 500];

/**
 * A reading that nobody counted to, where so many steps show the same, narrows nothing down: that it fits one of them is
 * all it tells.
 */
const mostAlike = 6;

const scaledOf = (chain: Chain, scale: StepScale): Chain =>
  chain.map((placed) => ({
    ...placed,
    interval: { least: scale.to(placed.interval.least), most: scale.to(placed.interval.most) },
  }));

const isOnScale = (chain: Chain): boolean =>
  chain.every(({ interval: { least, most } }) => Number.isFinite(least) && Number.isFinite(most));

const narrowedBy = (region: Region, chain: Chain, shift: number): Region =>
  chain.reduce(
    (left, { clicks, interval }) => (left.length === 0 ? left : narrowed(left, clicks + shift, interval)),
    region,
  );

/** What a chain leaves open by itself; null where it does not tell how far one click goes. */
const regionOf = (chain: Chain): Region | null => {
  const first = chain[0];
  if (!first) return null;
  const far = chain.reduce(
    (best, each) => (Math.abs(each.clicks) > Math.abs(best.clicks) ? each : best),
    first,
  );
  if (far.clicks === first.clicks) return null;
  const [low, high] = far.clicks > 0 ? [first, far] : [far, first];
  const region = through(low.clicks, low.interval, high.clicks - low.clicks, high.interval);
  return narrowedBy(risingOf(region), chain, 0);
};

/** Values rise: a share of the greatest possible step stands for none. */
const leastShareOfStep = 1e-7;

const risingOf = (region: Region): Region => {
  const { most } = extentOf(region, ({ step }) => step);
  return most > 0 ? withStepIn(region, { least: most * leastShareOfStep, most }) : [];
};

/** A region with only such steps as another allows too. */
const stepping = (region: Region, other: Region): Region =>
  withStepIn(
    region,
    extentOf(other, ({ step }) => step),
  );

/** Where the first reading of a chain may stand, in clicks of the region's. */
export const placesOf = (region: Region, { interval: { least, most } }: Placed): Interval => ({
  least: Math.ceil(extentOf(region, ({ base, step }) => (least - base) / step).least),
  most: Math.floor(extentOf(region, ({ base, step }) => (most - base) / step).most),
});

/** Chains with where they stand, the last placed first. */
interface Standing {
  readonly chain: Chain;
  readonly shift: number;
  readonly others: Standing | null;
}

/** Where each of so many readings stands. */
const placesFrom = (standing: Standing | null, readings: number): readonly number[] => {
  const places: number[] = Array.from({ length: readings }, () => 0);
  for (let each = standing; each !== null; each = each.others) {
    for (const { at, clicks } of each.chain) places[at] = clicks + each.shift;
  }
  return places;
};

/** How many steps may show what a reading shows. */
const alike = (region: Region, { interval: { least, most } }: Placed): number =>
  (most - least) / extentOf(region, ({ step }) => step).least;

/** Every way to place chains on what a region holds. */
class Placing {
  readonly leaves: Leaf[] = [];
  areMore = false;
  private tried = 0;
  constructor(readonly readings: number) {}

  place(region: Region, chains: readonly Chain[], others: Standing | null): void {
    if (this.leaves.length >= mostLeaves || this.tried >= mostTried) {
      this.areMore = true;
      return;
    }
    let next: { readonly chain: Chain; readonly where: Interval } | undefined;
    for (const chain of chains) {
      const where = placesOf(region, itemAt(chain, 0));
      if (!next || where.most - where.least < next.where.most - next.where.least) next = { chain, where };
    }
    if (!next) {
      this.leaves.push({ region, places: placesFrom(others, this.readings) });
      return;
    }
    const { chain, where } = next;
    const left = chains.filter((each) => each !== chain);
    if (alike(region, itemAt(chain, 0)) >= mostAlike && chain.every(({ stop }) => stop === null)) {
      for (let shift = where.least; shift <= Math.min(where.most, where.least + mostPlaces); shift++) {
        if (narrowedBy(region, chain, shift).length === 0) continue;
        this.place(region, left, { chain, shift, others });
        return;
      }
      return;
    }
    if (where.most - where.least > mostPlaces) {
      this.areMore = true;
      return;
    }
    this.tried += where.most - where.least + 1;
    for (let shift = where.least; shift <= where.most; shift++) {
      const narrower = narrowedBy(region, chain, shift);
      if (narrower.length > 0) this.place(narrower, left, { chain, shift, others });
    }
  }
}

/** Where the stops are, in clicks; undefined where readings contradict each other about them. */
const stopAt = (evidence: KnobEvidence, places: readonly number[], end: End): number | null | undefined => {
  const at = evidence.readings.flatMap(({ stop }, index) => (stop === end ? [itemAt(places, index)] : []));
  const [first] = at;
  if (first === undefined) return null;
  const beyond = places.some((place) => (end === 'bottom' ? place < first : place > first));
  return beyond || at.some((place) => place !== first) ? undefined : first;
};

/** The leaves of one shape: the same readings as far from the same ends. */
export interface PlacedShape {
  readonly key: string;
  readonly bottom: number | null;
  readonly top: number | null;
  readonly leaves: Leaf[];
}

const shapesOf = (
  evidence: KnobEvidence,
  leaves: readonly Leaf[],
  scale: StepScale,
): readonly PlacedShape[] => {
  const shapes = new Map<string, PlacedShape>();
  for (const leaf of leaves) {
    const [bottom, top] = [stopAt(evidence, leaf.places, 'bottom'), stopAt(evidence, leaf.places, 'top')];
    if (bottom === undefined || top === undefined) continue;
    if (evidence.count !== null && bottom !== null && top !== null && top - bottom + 1 !== evidence.count)
      continue;
    const key = `${scale.name} ${bottom} ${top}`;
    const shape = shapes.get(key) ?? { key, bottom, top, leaves: [] };
    shape.leaves.push(leaf);
    shapes.set(key, shape);
  }
  return [...shapes.values()];
};

/** How surely a region tells what one click does: the less the better. */
const looseness = (region: Region): number => {
  const { least, most } = extentOf(region, ({ step }) => step);
  return most / Math.max(least, most * 1e-9);
};

/**
 * Every way to place readings on equal steps of a scale, by shape, and whether there are more than were gone through.
 * None, but more, where no reading is a counted click from another. Where only some steps may be, `stepsIn` names those in
 * an interval: far fewer places are left to go through for each than for all that lies between.
 */
export const placedShapes = (
  evidence: KnobEvidence,
  scale: StepScale,
  stepsIn?: (steps: Interval) => readonly number[],
): { readonly shapes: readonly PlacedShape[]; readonly areMore: boolean } => {
  const chains = evidence.chains.map((chain) => scaledOf(chain, scale));
  if (!chains.every(isOnScale)) return { shapes: [], areMore: false };
  const regions = chains.flatMap((chain) => {
    const region = regionOf(chain);
    return region ? [{ chain, region }] : [];
  });
  if (regions.some(({ region }) => region.length === 0)) return { shapes: [], areMore: false };
  const [best] = regions.sort((a, b) => looseness(a.region) - looseness(b.region));
  if (!best) return { shapes: [], areMore: true };
  // What one click does is the same everywhere, so that every stretch narrows it down.
  const region = regions.reduce(
    (left, other) => (left.length === 0 ? left : stepping(left, other.region)),
    best.region,
  );
  if (region.length === 0) return { shapes: [], areMore: false };
  const others = chains.filter((chain) => chain !== best.chain);
  const alone = stepsIn?.(extentOf(region, ({ step }) => step)).map((step) => withExactStep(region, step));
  const leaves: Leaf[] = [];
  let areMore = false;
  for (const each of alone ?? [region]) {
    if (each.length === 0) continue;
    const placing = new Placing(evidence.readings.length);
    placing.place(each, others, { chain: best.chain, shift: 0, others: null });
    leaves.push(...placing.leaves);
    areMore ||= placing.areMore;
  }
  return { shapes: shapesOf(evidence, leaves, scale), areMore };
};
