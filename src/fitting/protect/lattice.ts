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

/** Which frequencies a lattice holds, and how many settings at most. */
export interface LatticeBounds {
  readonly fromHz: number;
  readonly toHz: number;
  /** A frequency whose nearest step is among those kept, however few they are. */
  readonly aboutHz: number;
  /** Of one knob, and of all knobs together. */
  readonly mostSteps: number;
  readonly mostSettings: number;
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
  if (count <= mostSteps) return Array.from({ length: count }, (_, i) => step(first + i));
  const { measure } = knobs[knob];
  const [bottom, top] = [grid.valueAt(step(first)), grid.valueAt(step(last))];
  const values = Array.from({ length: mostSteps }, (_, i) => {
    const share = i / Math.max(1, mostSteps - 1);
    return measure === 'ratio' ? bottom * (top / bottom) ** share : bottom + (top - bottom) * share;
  });
  const nearest = values.map((value) => nearestStep(grid, value, { measure, tie: 'up' }));
  return [...new Set([step(first), ...nearest.filter((each) => each > first && each < last), step(last)])];
};

const withStep = (
  steps: readonly Step[],
  extra: Step,
  [first, last]: readonly [number, number],
): readonly Step[] =>
  extra < first || extra > last || steps.includes(extra) ? steps : [...steps, extra].sort((a, b) => a - b);

/** How many steps each knob may have, for all of them together to make no more settings than they may. */
const mostStepsEach = (counts: readonly number[], { mostSteps, mostSettings }: LatticeBounds): number =>
  leastWhere(
    1,
    mostSteps,
    (most) => counts.reduce((product, count) => product * Math.min(count, most + 1), 1) > mostSettings,
  );

/** The lattice of a slot type; null where none of its frequencies or gains will do. */
export const makeLattice = (
  slotClass: SlotClass,
  slotType: DeskSlotType,
  bounds: LatticeBounds,
): Lattice | null => {
  const { frequency, gain } = slotType.grids;
  const widthKnob = widthKnobOf(slotType);
  const width = widthKnob && slotType.grids[widthKnob];
  const ranges = {
    frequency: stepsWithin(frequency, bounds.fromHz, bounds.toHz),
    width: [0, (width?.count ?? 1) - 1] as const,
    gain: gain ? stepsWithin(gain, Number.NEGATIVE_INFINITY, 0) : ([0, 0] as const),
  };
  const counts = Object.values(ranges).map(([first, last]) => last - first + 1);
  if (counts.some((count) => count < 1)) return null;

  const most = mostStepsEach(counts, bounds);
  const about = nearestStep(frequency, bounds.aboutHz, { measure: 'ratio', tie: 'up' });
  const frequencies = withStep(
    stepsOf('frequency', frequency, ranges.frequency, most),
    about,
    ranges.frequency,
  );
  const rising = widthKnob && width ? stepsOf(widthKnob, width, ranges.width, most) : [step(0)];
  const deepening = gain ? [...stepsOf('gain', gain, ranges.gain, most)].reverse() : [step(0)];
  return {
    slotClass,
    slotType,
    frequencies,
    frequenciesHz: frequencies.map((each) => frequency.valueAt(each)),
    widths: widthKnob === 'bandwidth' ? [...rising].reverse() : rising,
    gains: deepening,
    thinned: counts.some((count) => count > most),
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
