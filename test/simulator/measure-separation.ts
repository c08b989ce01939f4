import { blended, type Received } from '../../src/simulator/decode.js';
import type { Stereo } from '../../src/simulator/stereo.js';
import { type Db, db, type Hz } from '../../src/units/quantity.js';

/** Left and right of a receiver that never goes mono: M + S and M − S, whatever the pilot does. */
export const alwaysStereo = (received: Received): Stereo =>
  blended(received, new Float64Array(received.sum.length).fill(1));

/** Separation of a tone that was sent in left only: its amplitude in left over its leak into right, in dB. */
export interface SeparationFigures {
  /** Over the whole stretch at once: what crosses over steadily. */
  readonly overallDb: Db;
  /** The least over short windows, one after another: the worst moment of an error that comes and goes. */
  readonly worstDb: Db;
}

export interface SeparationQuestion {
  readonly frequencyHz: Hz;
  /** When the loop has settled. */
  readonly fromSeconds: number;
  readonly windowSeconds: number;
}

/** Measures separation from what a listener gets. Throws RangeError where not one window fits. */
export const measureSeparation = (
  { left, right, sampleRateHz }: Stereo,
  { frequencyHz, fromSeconds, windowSeconds }: SeparationQuestion,
): SeparationFigures => {
  const from = Math.round(fromSeconds * sampleRateHz);
  const windowLength = Math.round(windowSeconds * sampleRateHz);
  const windows = Math.floor((left.length - from) / windowLength);
  if (!(windowLength > 0 && windows > 0)) throw new RangeError(`no window of ${windowSeconds} s fits`);
  const separation = (start: number, end: number): number =>
    20 *
    Math.log10(
      toneAmplitude(left.subarray(start, end), sampleRateHz, frequencyHz) /
        toneAmplitude(right.subarray(start, end), sampleRateHz, frequencyHz),
    );
  const moments = Array.from({ length: windows }, (_, i) =>
    separation(from + i * windowLength, from + (i + 1) * windowLength),
  );
  return { overallDb: db(separation(from, left.length)), worstDb: db(Math.min(...moments)) };
};

/**
 * The amplitude of a steady sine in a stretch of samples, by one bin of a Fourier transform at its frequency under a
 * Hann window. The stretch should hold many periods; what lies more than two of its reciprocals away does not count.
 */
export const toneAmplitude = (samples: Float64Array, sampleRateHz: Hz, frequencyHz: Hz): number => {
  const step = (2 * Math.PI * frequencyHz) / sampleRateHz;
  const turn = (2 * Math.PI) / samples.length;
  let real = 0;
  let imaginary = 0;
  let weights = 0;
  for (let n = 0; n < samples.length; n++) {
    const weight = 1 - Math.cos(turn * (n + 0.5));
    const weighted = weight * (samples[n] as number);
    real += weighted * Math.cos(step * n);
    imaginary += weighted * Math.sin(step * n);
    weights += weight;
  }
  return (2 * Math.hypot(real, imaginary)) / weights;
};
