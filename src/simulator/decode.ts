import { deviationPerFullScale, type Modulation } from '../guard/modulation.js';
import { numberAt } from '../units/at.js';
import type { Hz } from '../units/quantity.js';
import { deEmphasise } from './emphasis.js';
import { pilotPhaseAt } from './encode.js';
import { decimate, decimatedHz, kaiserLowPass } from './resample.js';
import type { Composite, Stereo } from './stereo.js';
import { type LoopOptions, type PilotTrack, trackPilot } from './track-pilot.js';

/** What a receiver makes of a composite, before it makes left and right of it. */
export interface Received {
  readonly sampleRateHz: Hz;
  /** M = (L + R)/2 and S = (L − R)/2, de-emphasised; 1 is the desk's full scale. */
  readonly sum: Float64Array;
  readonly difference: Float64Array;
  /** At the composite's rate, `factor` samples to each of audio. */
  readonly track: PilotTrack;
  readonly factor: number;
}

/** Of the composite's rate: 176.4 kHz comes down to 44.1 kHz, 192 kHz to 48 kHz. */
const audioFactor = 4;
/** Of the pilot's frequency: audio up to 15 kHz, and nothing left of a pilot at 19 kHz. */
const passShare = 15 / 19;
const stopShare = 18.5 / 19;
const stopDb = 90;

/**
 * A stereo receiver: the pilot's loop gives the subcarrier at twice its phase, which brings the difference channel
 * down; both channels are de-emphasised and cut off above 15 kHz.
 */
export const decode = (composite: Composite, modulation: Modulation, options: LoopOptions = {}): Received => {
  const { samples, sampleRateHz } = composite;
  const track = trackPilot(composite, modulation.pilotHz, options);
  const turnsPerSample = modulation.pilotHz / sampleRateHz;
  const demodulated = samples.map((sample, n) => {
    const phase = pilotPhaseAt(n, turnsPerSample) + numberAt(track.phaseErrorRadians, n);
    return 2 * sample * Math.sin(2 * phase);
  });
  const taps = kaiserLowPass({
    passHz: passShare * modulation.pilotHz,
    stopHz: stopShare * modulation.pilotHz,
    sampleRateHz,
    stopDb,
  });
  const gain = deviationPerFullScale(modulation);
  const audio = (channel: Float64Array): Float64Array =>
    decimate(deEmphasise(channel, sampleRateHz, modulation.preEmphasisMicroseconds), taps, audioFactor).map(
      (sample) => sample / gain,
    );
  return {
    sampleRateHz: decimatedHz(sampleRateHz, audioFactor),
    sum: audio(samples),
    difference: audio(demodulated),
    track,
    factor: audioFactor,
  };
};

/** How long the difference channel takes to fade out or in: common practice, no source. */
const fadeSeconds = 0.05;

/**
 * How much of the difference channel a receiver lets through, g from 0 to 1, at every sample of its audio. While the lock indicator is on, g rises to 1, while it is
 * off, it falls to 0, in a straight line that takes 50 ms from end to end: a receiver that loses the pilot
 * goes mono, and comes back to stereo when it finds it. g starts at 0.
 */
export const stereoAmounts = ({ sum, track, factor, sampleRateHz }: Received): Float64Array => {
  const stepPerSample = 1 / (fadeSeconds * sampleRateHz);
  let amount = 0;
  return sum.map((_, i) => {
    amount += track.locked[i * factor] === 1 ? stepPerSample : -stepPerSample;
    amount = Math.min(1, Math.max(0, amount));
    return amount;
  });
};

/** Left and right as a listener gets them, M + gS and M − gS, for g as `stereoAmounts` has it. */
export const blended = (received: Received, amounts = stereoAmounts(received)): Stereo => {
  const { sum, difference, sampleRateHz } = received;
  const side = difference.map((sample, i) => sample * numberAt(amounts, i));
  return {
    sampleRateHz,
    left: sum.map((sample, i) => sample + numberAt(side, i)),
    right: sum.map((sample, i) => sample - numberAt(side, i)),
  };
};
