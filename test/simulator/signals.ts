import { randomFrom } from '../../src/simulator/built-in-programme.js';
import { fourier } from '../../src/simulator/run-chain.js';
import type { Stereo } from '../../src/simulator/stereo.js';
import { hz } from '../../src/units/quantity.js';

export const rateHz = hz(48000);

/** A sine of a given peak, at the phase it has at the first sample. */
export const sine = (
  frequencyHz: number,
  seconds: number,
  peak: number,
  phase = 0,
  rate = 48000,
): Float64Array =>
  Float64Array.from(
    { length: Math.round(seconds * rate) },
    (_, n) => peak * Math.sin(2 * Math.PI * ((frequencyHz * n) / rate) + phase),
  );

export const plus = (one: Float64Array, other: Float64Array): Float64Array =>
  one.map((sample, n) => sample + (other[n] as number));

export const leftOnly = (left: Float64Array): Stereo => ({
  sampleRateHz: rateHz,
  left,
  right: new Float64Array(left.length),
});

export const rightOnly = (right: Float64Array): Stereo => ({
  sampleRateHz: rateHz,
  left: new Float64Array(right.length),
  right,
});

export const mono = (both: Float64Array): Stereo => ({ sampleRateHz: rateHz, left: both, right: both });

/** 2.7 s at 48 kHz. */
const noiseLength = 2 ** 17;

/**
 * Pink noise of a given RMS (0 dBFS is a sine's, so the mean square at 0 dBFS is ½) from 20 Hz to 20 kHz: every
 * component of exactly the power pink noise has there, at a random phase.
 */
export const pinkNoise = (levelDbfs: number, seed: number): Float64Array => {
  const random = randomFrom(seed);
  const real = new Float64Array(noiseLength);
  const imaginary = new Float64Array(noiseLength);
  let meanSquare = 0;
  for (let k = 1; k < noiseLength / 2; k++) {
    const frequencyHz = (k * rateHz) / noiseLength;
    const phase = 2 * Math.PI * random();
    if (frequencyHz < 20 || frequencyHz > 20000) continue;
    real[k] = Math.cos(phase) / Math.sqrt(frequencyHz);
    imaginary[k] = Math.sin(phase) / Math.sqrt(frequencyHz);
    // The real part of one complex component of length a is a sine of peak a.
    meanSquare += 1 / frequencyHz / 2;
  }
  const scale = Math.sqrt((0.5 * 10 ** (levelDbfs / 10)) / meanSquare);
  return fourier({ real, imaginary }).real.map((sample) => scale * sample);
};
