import type { Quantiser } from '../../quantisers/quantiser.js';
import { stepsAround } from '../../quantisers/snap.js';
import { type Cents, centsBetween, type Hz, hz, type Step } from '../../units/quantity.js';

/** A frequency a bell or notch can be set to, and how far it lies from the pilot. */
export interface NearFrequency {
  readonly frequencyHz: Hz;
  readonly offsetHz: Hz;
  readonly offsetCents: Cents;
  /** The offset as a share of the pilot's frequency. */
  readonly offsetFraction: number;
}

/** A frequency beside the pilot. */
export const near = (frequencyHz: Hz, pilotHz: Hz): NearFrequency => ({
  frequencyHz,
  offsetHz: hz(frequencyHz - pilotHz),
  offsetCents: centsBetween(pilotHz, frequencyHz),
  offsetFraction: frequencyHz / pilotHz - 1,
});

/** The steps of a grid next to a frequency, and at it. */
export const stepsNear = (grid: Quantiser, pilotHz: Hz): readonly Step[] => {
  const { below, at, above } = stepsAround(grid, pilotHz);
  return [below, at, above].filter((each) => each !== null);
};
