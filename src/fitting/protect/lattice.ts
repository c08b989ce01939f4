import type { Filter } from '../../filters/filter.js';
import type { DeskSlotType } from '../../model/desk.js';
import { type Knob, knobs } from '../../model/knob.js';
import { leastWhere } from '../../quantisers/bisect.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { nearestStep } from '../../quantisers/snap.js';
import { type Step, step } from '../../units/quantity.js';
import { filterOf } from '../filter-of.js';
import type { SlotClass } from './slot-classes.js';

/**
 * The steps of one slot type that a search looks at, knob by knob. Each knob's steps are put in the order
 * that matters to a cut: frequencies rising, widths from the widest to the narrowest, gains from the
 * shallowest to the deepest. Gains above 0 dB are left out, for a cut never raises a level.
 */
export interface Lattice {
  readonly slotClass: SlotClass;
  readonly slotType: DeskSlotType;
  readonly frequencies: readonly Step[];
  readonly frequenciesHz: readonly number[];
  readonly widths: readonly Step[];
  readonly gains: readonly Step[];
  /** Whether a knob is so fine that only some of its steps are looked at. */
  readonly thinned: boolean;
}

/** Which frequencies a lattice holds, and how many steps of a knob at most. */
export interface LatticeBounds {
  readonly fromHz: number;
  readonly toHz: number;
  /** A frequency whose nearest step is among those kept, however few they are. */
  readonly aboutHz: number;
  readonly mostSteps: number;
}

const widthKnobs: readonly Knob[] = ['q', 'bandwidth', 'slope'];

const widthKnobOf = ({ grids }: DeskSlotType): Knob | null =>
  widthKnobs.find((knob) => grids[knob] !== undefined) ?? null;

/** Steps whose values lie from one to another. */
const stepsWithin = (grid: Quantiser, from: number, to: number): readonly [first: number, last: number] => [
  leastWhere(0, grid.count, (index) => grid.valueAt(step(index)) >= from),
  leastWhere(0, grid.count, (index) => grid.valueAt(step(index)) > to) - 1,
];

/** All steps of a range or, where they are too many, those nearest to values evenly apart. */
const stepsOf = (
  knob: Knob,
  grid: Quantiser,
  [first, last]: readonly [number, number],
  mostSteps: number,
): readonly Step[] => {
  const count = last - first + 1;
  if (count <= mostSteps) return Array.from({ length: Math.max(0, count) }, (_, i) => step(first + i));
  const { measure } = knobs[knob];
  const [bottom, top] = [grid.valueAt(step(first)), grid.valueAt(step(last))];
  const values = Array.from({ length: mostSteps }, (_, i) => {
    const share = i / (mostSteps - 1);
    return measure === 'ratio' ? bottom * (top / bottom) ** share : bottom + (top - bottom) * share;
  });
  const nearest = values.map((value) => nearestStep(grid, value, { measure, tie: 'up' }));
  return [...new Set([step(first), ...nearest.filter((each) => each > first && each < last), step(last)])];
};

const withStep = (steps: readonly Step[], extra: Step): readonly Step[] =>
  steps.length === 0 || steps.includes(extra) ? steps : [...steps, extra].sort((a, b) => a - b);

const frequencySteps = (grid: Quantiser, { fromHz, toHz, aboutHz, mostSteps }: LatticeBounds) => {
  const range = stepsWithin(grid, fromHz, toHz);
  const steps = stepsOf('frequency', grid, range, mostSteps);
  const about = nearestStep(grid, aboutHz, { measure: 'ratio', tie: 'up' });
  const isWithin = about >= range[0] && about <= range[1];
  return { steps: isWithin ? withStep(steps, about) : steps, count: range[1] - range[0] + 1 };
};

/** The lattice of a slot type; null where none of its frequencies or gains will do. */
export const makeLattice = (
  slotClass: SlotClass,
  slotType: DeskSlotType,
  bounds: LatticeBounds,
): Lattice | null => {
  const { frequency, gain } = slotType.grids;
  const widthKnob = widthKnobOf(slotType);
  const widthGrid = widthKnob ? slotType.grids[widthKnob] : undefined;
  const { mostSteps } = bounds;
  const frequencies = frequencySteps(frequency, bounds);
  const narrowing =
    widthKnob && widthGrid ? stepsOf(widthKnob, widthGrid, [0, widthGrid.count - 1], mostSteps) : [step(0)];
  const gainRange = gain ? stepsWithin(gain, Number.NEGATIVE_INFINITY, 0) : ([0, 0] as const);
  const rising = gain ? stepsOf('gain', gain, gainRange, mostSteps) : [step(0)];
  if (frequencies.steps.length === 0 || rising.length === 0) return null;
  const counts = [frequencies.count, widthGrid?.count ?? 1, gainRange[1] + 1];
  return {
    slotClass,
    slotType,
    frequencies: frequencies.steps,
    frequenciesHz: frequencies.steps.map((each) => frequency.valueAt(each)),
    widths: widthKnob === 'bandwidth' ? [...narrowing].reverse() : narrowing,
    gains: [...rising].reverse(),
    thinned: counts.some((count) => count > mostSteps),
  };
};

/** The steps of the knobs at one point of a lattice. */
export const stepsAt = (
  lattice: Lattice,
  f: number,
  w: number,
  g: number,
): Readonly<Partial<Record<Knob, Step>>> => {
  const widthKnob = widthKnobOf(lattice.slotType);
  const at = (steps: readonly Step[], index: number): Step => steps[index] ?? step(0);
  return {
    frequency: at(lattice.frequencies, f),
    ...(widthKnob ? { [widthKnob]: at(lattice.widths, w) } : {}),
    ...(lattice.slotType.grids.gain ? { gain: at(lattice.gains, g) } : {}),
  };
};

/** The filter at one point of a lattice. */
export const filterAt = (lattice: Lattice, f: number, w: number, g: number): Filter =>
  filterOf(lattice.slotType, stepsAt(lattice, f, w, g));
