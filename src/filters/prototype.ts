import { amplitudeRatio } from '../units/decibels.js';
import type { Db, Hz, Q } from '../units/quantity.js';
import type { FilterType } from './filter.js';
import type { Section } from './section.js';

/** The types that can be cuts with a slope, and that exist as first-order sections. */
export type CutType = Extract<FilterType, 'lowpass' | 'highpass'>;

/** One section to be made, whatever the design. `q` is the cookbook's; `gainDb` is 0 for types without. */
export type SectionPlan =
  | { readonly order: 1; readonly type: CutType; readonly frequencyHz: Hz }
  | {
      readonly order: 2;
      readonly type: FilterType;
      readonly frequencyHz: Hz;
      readonly q: Q;
      readonly gainDb: Db;
    };

/**
 * An analogue transfer function, normalised to the filter's own frequency:
 * H(s) = (b0 + b1 s + b2 s²) / (a0 + a1 s + a2 s²). First-order ones have b2 = a2 = 0.
 */
export type Prototype = Omit<Section, 'domain' | 'rateHz'>;

/** A, the square root of a bell's linear gain: 10^(dB/40) (W3C Audio EQ Cookbook). */
export const cookbookA = (gainDb: number): number => amplitudeRatio(gainDb / 2);

const prototypes: Readonly<Record<FilterType, (q: number, A: number) => Prototype>> = {
  lowpass: (q) => ({ b0: 1, b1: 0, b2: 0, a0: 1, a1: 1 / q, a2: 1 }),
  highpass: (q) => ({ b0: 0, b1: 0, b2: 1, a0: 1, a1: 1 / q, a2: 1 }),
  bandpass: (q) => ({ b0: 0, b1: 1 / q, b2: 0, a0: 1, a1: 1 / q, a2: 1 }),
  notch: (q) => ({ b0: 1, b1: 0, b2: 1, a0: 1, a1: 1 / q, a2: 1 }),
  allpass: (q) => ({ b0: 1, b1: -1 / q, b2: 1, a0: 1, a1: 1 / q, a2: 1 }),
  peaking: (q, A) => ({ b0: 1, b1: A / q, b2: 1, a0: 1, a1: 1 / (A * q), a2: 1 }),
  lowshelf: (q, A) => {
    const middle = Math.sqrt(A) / q;
    return { b0: A * A, b1: A * middle, b2: A, a0: 1, a1: middle, a2: A };
  },
  highshelf: (q, A) => {
    const middle = Math.sqrt(A) / q;
    return { b0: A, b1: A * middle, b2: A * A, a0: A, a1: middle, a2: 1 };
  },
};

const firstOrder: Readonly<Record<CutType, Prototype>> = {
  lowpass: { b0: 1, b1: 0, b2: 0, a0: 1, a1: 1, a2: 0 },
  highpass: { b0: 0, b1: 1, b2: 0, a0: 1, a1: 1, a2: 0 },
};

/**
 * The analogue prototype of a section.
 *
 * Second order: the H(s) of the W3C Audio EQ Cookbook (Note of 8 June 2021), for bandpass the one whose
 * peak is 0 dB. First order: 1/(s + 1) and s/(s + 1), the Butterworth filters of order one.
 */
export const prototypeOf = (plan: SectionPlan): Prototype =>
  plan.order === 1 ? firstOrder[plan.type] : prototypes[plan.type](plan.q, cookbookA(plan.gainDb));

/**
 * What bells, notches and bandpasses have in common. As analogue filters all of them are
 * |H|² = (reference² u + peak² k) / (u + k), where k = 1 / poleQ² and u = (f/f0 − f0/f)² is how far f lies from
 * the centre: `reference` is the gain far from it, `peak` the gain there, both linear. A notch is a bell of
 * peak 0, a bandpass one of reference 0.
 */
export interface Bell {
  readonly reference: number;
  readonly peak: number;
  readonly poleQ: number;
}

/** The bell a plan asks for, or null where its type is none. */
export const bellOf = (plan: SectionPlan): Bell | null => {
  if (plan.type === 'notch') return { reference: 1, peak: 0, poleQ: plan.q };
  if (plan.type === 'bandpass') return { reference: 0, peak: 1, poleQ: plan.q };
  if (plan.type === 'peaking') {
    const A = cookbookA(plan.gainDb);
    return { reference: 1, peak: A * A, poleQ: A * plan.q };
  }
  return null;
};
