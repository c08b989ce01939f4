import type { Hz } from '../units/quantity.js';
import { hz } from '../units/quantity.js';

/** How a component of the programme gets into the composite. */
export type Route = 'sum' | 'difference-lower' | 'difference-upper';

/** One place in the composite at which a component of the programme arrives. */
export interface Landing {
  readonly route: Route;
  readonly frequencyHz: Hz;
  /** Amplitude there over the amplitude the component has in its own channel, sum or difference. */
  readonly amplitude: number;
}

/**
 * The mirror image of a frequency about the pilot: 19 kHz − d and 19 kHz + d are each other's, and the pilot's
 * own image is the pilot. Beyond twice the pilot the image folds at 0 Hz.
 */
export const mirroredHz = (frequencyHz: Hz, pilotHz: Hz): Hz => hz(Math.abs(2 * pilotHz - frequencyHz));

/**
 * Where a component of the programme at `programmeHz` arrives in the composite.
 *
 * The sum channel goes out as it is. The difference channel modulates a suppressed subcarrier at twice the pilot
 * (47 CFR 73.322(a)(3) to (6): 38 kHz, double sideband), sin a · sin b = ½ cos(a − b) − ½ cos(a + b): half its
 * amplitude at 2·pilot − f, half at 2·pilot + f. So treble at pilot − d arrives at pilot − d and at pilot + d:
 * only what lies round the pilot in the programme gets near the pilot in the composite, and it gets there on
 * both sides.
 */
export const landings = (programmeHz: Hz, pilotHz: Hz): readonly Landing[] => [
  { route: 'sum', frequencyHz: programmeHz, amplitude: 1 },
  { route: 'difference-lower', frequencyHz: mirroredHz(programmeHz, pilotHz), amplitude: 0.5 },
  { route: 'difference-upper', frequencyHz: hz(2 * pilotHz + programmeHz), amplitude: 0.5 },
];
