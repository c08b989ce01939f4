import { deviationPerFullScale, type Modulation, pilotDeviation } from '../guard/modulation.js';
import { numberAt } from '../units/at.js';
import { hz } from '../units/quantity.js';
import { preEmphasise } from './emphasis.js';
import { compositeFactor, interpolate } from './resample.js';
import type { Composite, Stereo } from './stereo.js';

/** What may be otherwise than in a perfect transmitter. */
export interface EncoderFaults {
  /** The pilot's peak over full deviation: 0.09 unless told, 0 for none. */
  readonly pilotDeviation?: number;
  /** How far the pilot is ahead of where the subcarrier wants it. */
  readonly pilotPhaseRadians?: number;
}

/**
 * The composite of a stereo transmitter, M + S sin 2ωt + p sin ωt (47 CFR 73.322: the subcarrier, at twice the
 * pilot, crosses zero upwards wherever the pilot crosses zero), M and S half the sum and half the
 * difference of left and right (ITU-R BS.450), both pre-emphasised.
 *
 * A linear model: no limiter, no compander, and on purpose no low-pass at 15 kHz. Treble reaches the pilot as the
 * desk lets it out. Content up to 23 kHz (at 44.1 kHz: 21 kHz) arrives within 0.001 dB.
 */
export const encode = (
  { left, right, sampleRateHz }: Stereo,
  modulation: Modulation,
  faults: EncoderFaults = {},
): Composite => {
  const factor = compositeFactor(sampleRateHz);
  const compositeRateHz = hz(factor * sampleRateHz);
  const gain = deviationPerFullScale(modulation);
  const prepared = (samples: Float64Array): Float64Array =>
    preEmphasise(
      interpolate(samples, sampleRateHz, factor),
      compositeRateHz,
      modulation.preEmphasisMicroseconds,
    );
  const emphasisedLeft = prepared(left);
  const emphasisedRight = prepared(right);
  const pilot = faults.pilotDeviation ?? pilotDeviation;
  const ahead = faults.pilotPhaseRadians ?? 0;
  const samples = emphasisedLeft.map((leftNow, n) => {
    const rightNow = numberAt(emphasisedRight, n);
    const phase = pilotPhaseAt(n, modulation.pilotHz / compositeRateHz);
    const sum = (gain * (leftNow + rightNow)) / 2;
    const difference = (gain * (leftNow - rightNow)) / 2;
    return sum + difference * Math.sin(2 * phase) + pilot * Math.sin(phase + ahead);
  });
  return { sampleRateHz: compositeRateHz, samples };
};

/** The subcarrier's own notion of the pilot's phase at a sample; whole turns are dropped so that no digits are lost. */
export const pilotPhaseAt = (sample: number, turnsPerSample: number): number =>
  2 * Math.PI * ((sample * turnsPerSample) % 1);
