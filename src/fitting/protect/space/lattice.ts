import type { Filter } from '../../../filters/filter.js';
import { type DeskSlotType, filterOf } from '../../../model/desk.js';
import { type Knob, knobs } from '../../../model/knob.js';
import { leastWhere } from '../../../quantisers/grid.js';
import type { Quantiser } from '../../../quantisers/quantiser.js';
import { nearestStep } from '../../../quantisers/snap.js';
import { type Step, step } from '../../../units/quantity.js';
import { leastShownDb } from '../../response.js';
import type { SlotClass } from '../../slot-classes.js';

/** The steps of one knob that a search looks at, counted from 0 in the order that matters to a cut. */
export interface Axis {
  readonly count: number;
  stepAt(index: number): Step;
  valueAt(index: number): number;
}

/**
 * The steps of one slot type that a search looks at, knob by knob: frequencies rising, widths from the widest to the
 * narrowest, slopes rising, gains from the shallowest to the deepest. Nothing is worked out but when asked for, so a
 * knob may have millions of steps.
 */
export interface Lattice {
  readonly slotClass: SlotClass;
  readonly slotType: DeskSlotType;
  readonly frequency: Axis;
  readonly width: Axis;
  readonly gain: Axis;
}

/** A shelf or a high cut of a higher Q rises before it falls. */
export const flattestQ = Math.SQRT1_2;

const widthKnobs: readonly Knob[] = ['q', 'bandwidth', 'slope'];

const widthKnobOf = ({ grids }: DeskSlotType): Knob | null =>
  widthKnobs.find((knob) => grids[knob] !== undefined) ?? null;

const nothing: Axis = { count: 1, stepAt: () => step(0), valueAt: () => 0 };

/** The steps from `first` to `last`, or from `last` down to `first`. */
const axisOf = (grid: Quantiser, first: number, last: number, isReversed = false): Axis => {
  const stepAt = (index: number): Step => step(isReversed ? last - index : first + index);
  return { count: last - first + 1, stepAt, valueAt: (index) => grid.valueAt(stepAt(index)) };
};

const firstFrom = (grid: Quantiser, value: number): number =>
  leastWhere(0, grid.count, (index) => grid.valueAt(step(index)) >= value);

const firstAbove = (grid: Quantiser, value: number): number =>
  leastWhere(0, grid.count, (index) => grid.valueAt(step(index)) > value);

const widthAxis = (slotType: DeskSlotType): Axis => {
  const knob = widthKnobOf(slotType);
  const grid = knob && slotType.grids[knob];
  if (!grid) return nothing;
  // A shelf with a Q serves as one that does not resonate, or as near to that as its knob goes.
  const last =
    slotType.type === 'highshelf' && knob === 'q'
      ? nearestStep(grid, flattestQ, { measure: knobs.q.measure, tie: 'down' })
      : grid.count - 1;
  return axisOf(grid, 0, last, knob === 'bandwidth');
};

const gainAxis = ({ grids: { gain } }: DeskSlotType): Axis =>
  gain ? axisOf(gain, 0, firstAbove(gain, -leastShownDb) - 1, true) : nothing;

/** The lattice of a slot type between two frequencies; null where none of its frequencies or gains will do. */
export const makeLattice = (
  slotClass: SlotClass,
  slotType: DeskSlotType,
  fromHz: number,
  toHz: number,
): Lattice | null => {
  const { frequency: grid } = slotType.grids;
  const frequency = axisOf(grid, firstFrom(grid, fromHz), firstAbove(grid, toHz) - 1);
  const [width, gain] = [widthAxis(slotType), gainAxis(slotType)];
  return [frequency, width, gain].every(({ count }) => count > 0)
    ? { slotClass, slotType, frequency, width, gain }
    : null;
};

/** The steps of the knobs at one point of a lattice. */
export const stepsAt = (
  { slotType, frequency, width, gain }: Lattice,
  f: number,
  w: number,
  g: number,
): Readonly<Partial<Record<Knob, Step>>> => {
  const widthKnob = widthKnobOf(slotType);
  return {
    frequency: frequency.stepAt(f),
    ...(widthKnob ? { [widthKnob]: width.stepAt(w) } : {}),
    ...(slotType.grids.gain ? { gain: gain.stepAt(g) } : {}),
  };
};

/** The filter at one point of a lattice. */
export const filterAt = (lattice: Lattice, f: number, w: number, g: number): Filter =>
  filterOf(lattice.slotType, stepsAt(lattice, f, w, g));
