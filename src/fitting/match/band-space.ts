import type { DeskSlot, DeskSlotType } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import { type Knob, knobNames } from '../../model/knob.js';
import type { Band } from '../../model/recipe.js';
import { leastWhere } from '../../quantisers/bisect.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { centsBetween, hz, type Step, step } from '../../units/quantity.js';
import { farthestCents } from '../nearest.js';
import { serviceOf } from '../stand-ins.js';

/** The steps a knob may be turned to, ends included. */
export interface KnobRange {
  readonly knob: Knob;
  readonly from: number;
  readonly to: number;
}

/** The settings a search may give one band: every combination of its knobs' steps. */
export interface BandSpace {
  /** The intent as the slot serves it: as asked, or told as what stands in for it. */
  readonly intent: Intent;
  readonly slotType: DeskSlotType;
  readonly ranges: readonly KnobRange[];
  /** Where nearest puts the knobs, in the order of `ranges`. */
  readonly start: Setting;
}

/** A step for each knob of a band, in the order of its ranges. */
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

const frequencyEnds = (grid: Quantiser, { frequencyHz }: Intent): Ends =>
  stepsWhere(
    grid,
    (value) => centsBetween(frequencyHz, hz(value)) >= -farthestCents,
    (value) => centsBetween(frequencyHz, hz(value)) > farthestCents,
  );

/** A cut stays a cut and a boost a boost; either may come to nothing. */
const gainEnds = (grid: Quantiser, gainDb: number): Ends =>
  stepsWhere(
    grid,
    (value) => gainDb < 0 || value >= 0,
    (value) => gainDb <= 0 && value > 0,
  );

const endsOf = (knob: Knob, grid: Quantiser, intent: Intent): Ends => {
  if (knob === 'frequency') return frequencyEnds(grid, intent);
  if (knob === 'gain') return gainEnds(grid, intent.gainDb ?? 0);
  return [0, grid.count - 1];
};

/** What nearest chose is always among the steps, even where a grid holds none that should be. */
const including = ([from, to]: Ends, chosen: Step): Ends =>
  from > to ? [chosen, chosen] : [Math.min(from, chosen), Math.max(to, chosen)];

/**
 * The settings within which a band still serves its intent: frequencies a third of an octave from what was asked
 * at most, gains of the sign asked, every width.
 */
export const bandSpace = ({ asked, steps }: Band, { id, types }: DeskSlot): BandSpace => {
  const service = serviceOf(asked, types);
  if (!service) throw new RangeError(`slot ${id} cannot serve ${asked.role}`);
  const { intent, slotType } = service;
  const ranges: KnobRange[] = [];
  const start: Step[] = [];
  for (const knob of knobNames) {
    const [grid, position] = [slotType.grids[knob], steps[knob]];
    if (!grid || !position) continue;
    const [from, to] = including(endsOf(knob, grid, intent), position.index);
    ranges.push({ knob, from, to });
    start.push(position.index);
  }
  return { intent, slotType, ranges, start };
};

/** A setting knob by knob. */
export const stepsOf = ({ ranges }: BandSpace, setting: Setting): Readonly<Partial<Record<Knob, Step>>> =>
  Object.fromEntries(ranges.map(({ knob }, i) => [knob, step(setting[i] as number)]));

export const settingCount = ({ ranges }: BandSpace): number =>
  ranges.reduce((count, { from, to }) => count * (to - from + 1), 1);
