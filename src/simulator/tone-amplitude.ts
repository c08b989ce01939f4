import type { Hz } from '../units/quantity.js';

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
