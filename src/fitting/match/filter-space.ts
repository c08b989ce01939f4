import type { DeskSlotType } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import { type Knob, knobNames } from '../../model/knob.js';
import { leastWhere } from '../../quantisers/grid.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { itemAt } from '../../units/at.js';
import { type Cents, cents, centsBetween, hz, type Step, step } from '../../units/quantity.js';
import type { Offer } from '../nearest/nearest.js';
import { farthestCents, rankOf } from '../nearest/nearest.js';
import { widthAsBandwidth } from '../placement.js';

/** Half of what lies between a bell's midpoint-gain points, in cents. */
const halfWidthCents = (bell: Intent): number => 600 * (widthAsBandwidth(bell) ?? 0);

/**
 * Whether one wider bell may come near to two: both cut or both raise, and the stretches between their midpoint-gain
 * points touch. A protective filter merges with nothing: it has to stay where it guards.
 */
const mayMerge = (one: Intent, other: Intent): boolean =>
  one.type === 'peaking' &&
  other.type === 'peaking' &&
  rankOf(one.role) === rankOf(other.role) &&
  (one.gainDb ?? 0) * (other.gainDb ?? 0) > 0 &&
  Math.abs(centsBetween(one.frequencyHz, other.frequencyHz)) <= halfWidthCents(one) + halfWidthCents(other);

/** The intents without a slot that the filter of another may make up for. */
export const mergingWith = (intent: Intent, unserved: readonly Intent[]): readonly Intent[] =>
  unserved.filter((other) => mayMerge(intent, other));

/**
 * How far a filter may move from what was asked: a third of an octave, farther off it is another filter; and half the
 * way to what it may be merged with, beyond which it serves the other rather.
 */
const reachOf = (
  intent: Intent,
  merging: readonly Intent[],
): { readonly downCents: Cents; readonly upCents: Cents } => {
  const halfWays = merging.map((other) => centsBetween(intent.frequencyHz, other.frequencyHz) / 2);
  return {
    downCents: cents(Math.min(-farthestCents, ...halfWays)),
    upCents: cents(Math.max(farthestCents, ...halfWays)),
  };
};

/** The steps a knob may be turned to, ends included. */
export interface KnobRange {
  readonly knob: Knob;
  readonly from: number;
  readonly to: number;
}

/** The settings a search may give one filter: every combination of its knobs' steps. */
export interface FilterSpace {
  readonly intent: Intent;
  readonly slotType: DeskSlotType;
  readonly ranges: readonly KnobRange[];
  /** Where nearest puts the knobs, in the order of `ranges`. */
  readonly start: Setting;
}

/** A step for each knob of a filter, in the order of its ranges. */
export type Setting = readonly number[];

type Ends = readonly [from: number, to: number];

const stepsWhere = (
  grid: Quantiser,
  isHighEnough: (value: number) => boolean,
  isTooHigh: (value: number) => boolean,
): Ends => [
  leastWhere(0, grid.count, (index) => isHighEnough(grid.valueAt(step(index)))),
  leastWhere(0, grid.count, (index) => isTooHigh(grid.valueAt(step(index)))) - 1,
];

const frequencyEnds = (grid: Quantiser, intent: Intent, merging: readonly Intent[]): Ends => {
  const { downCents, upCents } = reachOf(intent, merging);
  return stepsWhere(
    grid,
    (value) => centsBetween(intent.frequencyHz, hz(value)) >= downCents,
    (value) => centsBetween(intent.frequencyHz, hz(value)) > upCents,
  );
};

/** A cut stays a cut and a rise a rise; either may come to nothing. */
const gainEnds = (grid: Quantiser, gainDb: number): Ends =>
  stepsWhere(
    grid,
    (value) => gainDb < 0 || value >= 0,
    (value) => gainDb <= 0 && value > 0,
  );

const endsOf = (knob: Knob, grid: Quantiser, intent: Intent, merging: readonly Intent[]): Ends => {
  if (knob === 'frequency') return frequencyEnds(grid, intent, merging);
  if (knob === 'gain') return gainEnds(grid, intent.gainDb ?? 0);
  return [0, grid.count - 1];
};

/** What nearest chose is always among the steps, even where a grid holds none that should be. */
const including = ([from, to]: Ends, chosen: Step): Ends =>
  from > to ? [chosen, chosen] : [Math.min(from, chosen), Math.max(to, chosen)];

/**
 * The settings within which a filter still serves its intent: frequencies within its reach, gains of the sign asked,
 * every width. `merging` are the intents without a slot that it may make up for.
 */
export const filterSpace = ({ service, placement }: Offer, merging: readonly Intent[]): FilterSpace => {
  const { intent, slotType } = service;
  const ranges: KnobRange[] = [];
  const start: Step[] = [];
  for (const knob of knobNames) {
    const [grid, position] = [slotType.grids[knob], placement.steps[knob]];
    if (!grid || !position) continue;
    const [from, to] = including(endsOf(knob, grid, intent, merging), position.index);
    ranges.push({ knob, from, to });
    start.push(position.index);
  }
  return { intent, slotType, ranges, start };
};

/** A setting knob by knob. */
export const stepsOf = ({ ranges }: FilterSpace, setting: Setting): Readonly<Partial<Record<Knob, Step>>> =>
  Object.fromEntries(ranges.map(({ knob }, i) => [knob, step(itemAt(setting, i))]));

export const settingCount = ({ ranges }: FilterSpace): number =>
  ranges.reduce((count, { from, to }) => count * (to - from + 1), 1);
