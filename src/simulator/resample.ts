import { numberAt } from '../units/at.js';
import { type Hz, hz } from '../units/quantity.js';

/** No less than this, so that a difference channel up to 50 kHz finds room round a subcarrier at 38 kHz. */
const leastCompositeRateHz = 176000;

/** How many times the audio's rate the composite has: 4 for 44.1 and 48 kHz, 2 for 88.2 and 96 kHz. */
export const compositeFactor = (sampleRateHz: Hz): number =>
  2 ** Math.max(0, Math.ceil(Math.log2(leastCompositeRateHz / sampleRateHz)));

/** What is kept of the band below half the sample rate: at 48 kHz all up to 23 kHz, images from 25 kHz stopped. */
const keptShare = 23 / 24;
const imagesDb = 90;

/**
 * Samples at `factor` times the rate, a power of two, nothing delayed: what lies up to 23/24 of half the old rate is
 * kept within 0.0005 dB, its images are 90 dB down. The treble above 15 kHz must survive, since it is what
 * meets the pilot.
 */
export const interpolate = (samples: Float64Array, sampleRateHz: Hz, factor: number): Float64Array => {
  const keptHz = (keptShare * sampleRateHz) / 2;
  let interpolated: Float64Array = samples.slice();
  for (let by = 1; by < factor; by *= 2) {
    interpolated = doubled(interpolated, midwayWeights(keptHz / (by * sampleRateHz)));
  }
  return interpolated;
};

/**
 * Weights for the value midway between two samples: the nearest sample's on either side, the next ones', and so on.
 * They are the odd taps of a low-pass at half the old rate; its even ones are zero, so the old samples stay.
 */
const midwayWeights = (keptHzPerRate: number): Float64Array => {
  const taps = kaiserLowPass({
    passHz: keptHzPerRate,
    stopHz: 1 - keptHzPerRate,
    sampleRateHz: 2,
    stopDb: imagesDb,
  });
  const odd = taps.subarray((taps.length - 1) / 2).filter((_, place) => place % 2 === 1);
  const sum = odd.reduce((a, b) => a + b, 0);
  return odd.map((tap) => tap / (2 * sum));
};

const doubled = (samples: Float64Array, weights: Float64Array): Float64Array => {
  const reach = weights.length;
  // Silence on both sides, so that every sum is whole.
  const padded = new Float64Array(samples.length + 2 * reach);
  padded.set(samples, reach);
  const out = new Float64Array(2 * samples.length);
  for (let n = 0; n < samples.length; n++) {
    let midway = 0;
    for (let k = 0; k < reach; k++) {
      midway +=
        numberAt(weights, k) * (numberAt(padded, reach + n - k) + numberAt(padded, reach + n + 1 + k));
    }
    out[2 * n] = numberAt(samples, n);
    out[2 * n + 1] = midway;
  }
  return out;
};

/** Every `factor`-th sample after a low-pass of an odd number of taps, nothing delayed. */
export const decimate = (samples: Float64Array, taps: Float64Array, factor: number): Float64Array => {
  const half = (taps.length - 1) / 2;
  const out = new Float64Array(Math.ceil(samples.length / factor));
  for (let k = 0; k < out.length; k++) {
    const start = k * factor - half;
    const first = Math.max(0, -start);
    const end = Math.min(taps.length, samples.length - start);
    let sum = 0;
    for (let j = first; j < end; j++) sum += numberAt(samples, start + j) * numberAt(taps, j);
    out[k] = sum;
  }
  return out;
};

/** The rate that `decimate` leaves. */
export const decimatedHz = (sampleRateHz: Hz, factor: number): Hz => hz(sampleRateHz / factor);

/** What a low-pass is to do at a sample rate. */
export interface LowPassWish {
  readonly passHz: number;
  readonly stopHz: number;
  readonly sampleRateHz: number;
  readonly stopDb: number;
}

/** The modified Bessel function of the first kind and order zero, by its power series. */
const bessel0 = (x: number): number => {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-17 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
};

/**
 * The taps of a low-pass of linear phase, an odd number of them, the middle one its centre; gain 1 at 0 Hz. What it
 * passes ripples as little as what it stops is left: 80 dB is 0.0009 dB.
 *
 * A windowed sinc with Kaiser's window and his formulas for its length and shape, for 50 dB and more
 * (J. F. Kaiser 1974; Oppenheim and Schafer, Discrete-Time Signal Processing, "the Kaiser window filter design
 * method": from memory).
 */
export const kaiserLowPass = ({ passHz, stopHz, sampleRateHz, stopDb }: LowPassWish): Float64Array => {
  const beta = 0.1102 * (stopDb - 8.7);
  const transition = (2 * Math.PI * (stopHz - passHz)) / sampleRateHz;
  const half = Math.ceil((stopDb - 7.95) / (2.285 * transition) / 2);
  const cutoff = (passHz + stopHz) / sampleRateHz;
  const taps = Float64Array.from({ length: 2 * half + 1 }, (_, i) => {
    const place = i - half;
    const sinc = place === 0 ? cutoff : Math.sin(Math.PI * cutoff * place) / (Math.PI * place);
    return sinc * bessel0(beta * Math.sqrt(1 - (place / half) ** 2));
  });
  const gain = taps.reduce((a, b) => a + b, 0);
  return taps.map((tap) => tap / gain);
};
