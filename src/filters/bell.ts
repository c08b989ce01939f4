import { cookbookA, type SectionPlan } from './prototype.js';

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
