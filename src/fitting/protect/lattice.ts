import type { Filter } from '../../filters/filter.js';
import type { DeskSlotType } from '../../model/desk.js';
import { type Knob, knobNames, knobs } from '../../model/knob.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { nearestStep } from '../../quantisers/snap.js';
import { type Step, step } from '../../units/quantity.js';
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

/** A knob with more steps than this is looked at in so many places, evenly spaced among its steps. */
const mostStepsLookedAt = 1024;

const widthKnobs: readonly Knob[] = ['q', 'bandwidth', 'slope'];

export const widthKnobOf = ({ grids }: DeskSlotType): Knob | null =>
  widthKnobs.find((knob) => grids[knob] !== undefined) ?? null;

const evenly = (from: number, to: number): readonly Step[] => {
  const count = Math.min(to - from + 1, mostStepsLookedAt);
  return Array.from({ length: count }, (_, i) =>
    step(count === 1 ? from : from + Math.round((i * (to - from)) / (count - 1))),
  );
};

const withStep = (steps: readonly Step[], extra: Step): readonly Step[] =>
  steps.includes(extra) ? steps : [...steps, extra].sort((a, b) => a - b);

/** All frequencies of a grid; where it is too fine for that, the one nearest to the pilot is among those kept. */
const frequencySteps = (grid: Quantiser, pilotHz: number): readonly Step[] =>
  withStep(evenly(0, grid.count - 1), nearestStep(grid, pilotHz, { measure: 'ratio', tie: 'up' }));

const gainSteps = (grid: Quantiser): readonly Step[] => {
  const highest = nearestStep(grid, 0, { measure: 'difference', tie: 'down' });
  const top = grid.valueAt(highest) > 0 ? highest - 1 : highest;
  return top < 0 ? [] : [...evenly(0, top)].reverse();
};

export const makeLattice = (slotClass: SlotClass, slotType: DeskSlotType, pilotHz: number): Lattice => {
  const { frequency, gain } = slotType.grids;
  const widthKnob = widthKnobOf(slotType);
  const widthGrid = widthKnob ? slotType.grids[widthKnob] : undefined;
  const rising = widthGrid ? evenly(0, widthGrid.count - 1) : [step(0)];
  const frequencies = frequencySteps(frequency, pilotHz);
  const counts = [frequency.count, widthGrid?.count ?? 1, gain?.count ?? 1];
  return {
    slotClass,
    slotType,
    frequencies,
    frequenciesHz: frequencies.map((each) => frequency.valueAt(each)),
    widths: widthKnob === 'bandwidth' ? [...rising].reverse() : rising,
    gains: gain ? gainSteps(gain) : [step(0)],
    thinned: counts.some((count) => count > mostStepsLookedAt),
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
export const filterAt = (lattice: Lattice, f: number, w: number, g: number): Filter => {
  const steps = stepsAt(lattice, f, w, g);
  const { slotType } = lattice;
  const values = Object.fromEntries(
    knobNames.flatMap((knob) => {
      const grid = slotType.grids[knob];
      const index = steps[knob];
      return grid && index !== undefined ? [[knobs[knob].value, grid.valueAt(index)] as const] : [];
    }),
  );
  const family = slotType.grids.slope ? { family: slotType.family ?? 'butterworth' } : {};
  return { type: slotType.type, ...values, ...family } as unknown as Filter;
};
