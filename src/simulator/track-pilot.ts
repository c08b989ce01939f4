import { pilotDeviation } from '../guard/modulation.js';
import { numberAt } from '../units/at.js';
import { type Hz, hz } from '../units/quantity.js';
import { pilotPhaseAt } from './encode.js';
import type { Composite } from './stereo.js';

/**
 * The loop noise bandwidth taken where nobody says which: 30 Hz. A receiver's own is seldom published: US patent
 * 5,202,924 (1993) tells 300 Hz while searching and 10 Hz once locked; the analysis of an open-source FM receiver
 * (Zenodo record 7979897) a loop of 30 Hz. Real receivers vary: take 10 to 300 Hz for the range.
 */
export const usualLoopNoiseBandwidthHz = hz(30);

/** Damping of the loop: 1/√2, the usual compromise between speed and overshoot. */
const loopDamping = Math.SQRT1_2;

/**
 * The natural frequency in radians per second of a second-order loop with a proportional and an integrating path,
 * from its one-sided noise bandwidth: B = (ωn / 2)(ζ + 1 / 4ζ) (Gardner, Phaselock Techniques: from memory).
 */
export const naturalFrequency = (noiseBandwidthHz: Hz): number =>
  (2 * noiseBandwidthHz) / (loopDamping + 1 / (4 * loopDamping));

/** What a receiver's loop makes of a composite, sample by sample. */
export interface PilotTrack {
  readonly sampleRateHz: Hz;
  /**
   * How far the loop's oscillator is ahead of where the subcarrier wants the pilot, in radians, whole turns counted:
   * the error of the regenerated pilot.
   */
  readonly phaseErrorRadians: Float64Array;
  /** 1 while the lock indicator is on, else 0. */
  readonly locked: Uint8Array;
}

/** What may differ from receiver to receiver. */
export interface LoopOptions {
  readonly loopNoiseBandwidthHz?: Hz;
}

/** Half the width of the pilot's band-pass: far beyond the loop's, so that it only keeps the programme at large out. */
const pilotFilterHalfWidthHz = 500;

/** A loop switched on finds the pilot at any phase. */
const startRadians = 1;

/**
 * A phase-locked loop of second order on the pilot: a band-pass of one pole either side, a multiplying phase
 * detector, a proportional and an integrating path. The oscillator's phase is kept as its distance from the
 * nominal pilot's, where the band-pass is a low-pass at 0 Hz. What the integrating path may detune the oscillator by
 * is the loop's noise bandwidth, either way: else an interferer could drag it off for good.
 */
export const trackPilot = (
  { samples, sampleRateHz }: Composite,
  pilotHz: Hz,
  { loopNoiseBandwidthHz = usualLoopNoiseBandwidthHz }: LoopOptions = {},
): PilotTrack => {
  const phaseErrorRadians = new Float64Array(samples.length);
  const locked = new Uint8Array(samples.length);
  const isLocked = lockIndicator(sampleRateHz);
  const step = naturalFrequency(loopNoiseBandwidthHz) / sampleRateHz;
  const proportional = 2 * loopDamping * step;
  const integrating = step * step;
  const mostDrift = (2 * Math.PI * loopNoiseBandwidthHz) / sampleRateHz;
  const smoothing = 1 - Math.exp((-2 * Math.PI * pilotFilterHalfWidthHz) / sampleRateHz);
  const turnsPerSample = pilotHz / sampleRateHz;
  let phase = startRadians;
  let drift = 0;
  let real = 0;
  let imaginary = 0;
  for (let n = 0; n < samples.length; n++) {
    // The pilot p sin(ωt + φ) times 2 sin ωt and 2 cos ωt leaves p cos φ and p sin φ.
    const nominal = pilotPhaseAt(n, turnsPerSample);
    const doubled = (2 * numberAt(samples, n)) / pilotDeviation;
    real += smoothing * (doubled * Math.sin(nominal) - real);
    imaginary += smoothing * (doubled * Math.cos(nominal) - imaginary);
    const cosine = Math.cos(phase);
    const sine = Math.sin(phase);
    const quadrature = imaginary * cosine - real * sine;
    phaseErrorRadians[n] = phase;
    locked[n] = isLocked(real * cosine + imaginary * sine) ? 1 : 0;
    drift = Math.max(-mostDrift, Math.min(mostDrift, drift + integrating * quadrature));
    phase += drift + proportional * quadrature;
  }
  return { sampleRateHz, phaseErrorRadians, locked };
};

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
