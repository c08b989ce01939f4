import type { Hz } from '../units/quantity.js';

/** Over what time the indicator smooths, and where it turns on and off: common practice, no source. */
const smoothingSeconds = 0.1;
const onAbove = 0.7;
const offBelow = 0.5;

/**
 * Tells at every sample whether a receiver would say that it hears a pilot. It smooths what of the composite lies in
 * phase with its own oscillator, over the nominal pilot, and turns on above 0.7 and off below 0.5 of it. It can't
 * know better: an interferer stronger than the pilot, and near enough for the loop to follow it, keeps it on.
 */
export const lockIndicator = (sampleRateHz: Hz): ((inPhase: number) => boolean) => {
  const weight = 1 / (smoothingSeconds * sampleRateHz);
  let smoothed = 0;
  let on = false;
  return (inPhase) => {
    smoothed += weight * (inPhase - smoothed);
    on = smoothed > (on ? offBelow : onAbove);
    return on;
  };
};
