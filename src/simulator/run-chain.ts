import { magnitudeSquared, phaseRadians } from '../filters/response.js';
import type { Section } from '../filters/section.js';
import { itemAt, numberAt } from '../units/at.js';
import type { Hz } from '../units/quantity.js';
import type { Stereo } from './stereo.js';

/** One digital section run over samples from rest, in transposed direct form II. */
const runDigital = (samples: Float64Array, section: Section): Float64Array => {
  const { b0, b1, b2, a1, a2 } = section;
  let first = 0;
  let second = 0;
  return samples.map((sample) => {
    const out = b0 * sample + first;
    first = b1 * sample - a1 * out + second;
    second = b2 * sample - a2 * out;
    return out;
  });
};

/**
 * A chain of sections run over samples: digital ones as the desk would run them, analogue ones by their exact
 * response. Throws RangeError where a digital section is for another sample rate.
 */
export const runChain = (
  samples: Float64Array,
  sampleRateHz: Hz,
  chain: readonly Section[],
): Float64Array => {
  const digital = chain.filter(({ domain }) => domain === 'z');
  const stray = digital.find(({ rateHz }) => rateHz !== sampleRateHz);
  if (stray !== undefined) {
    throw new RangeError(`a section for ${stray.rateHz} Hz can't run at ${sampleRateHz} Hz`);
  }
  const analogue = chain.filter(({ domain }) => domain === 's');
  return runAnalogue(digital.reduce(runDigital, samples), sampleRateHz, analogue);
};

/** The same chain run over both channels. */
export const runChainOnBoth = ({ left, right, sampleRateHz }: Stereo, chain: readonly Section[]): Stereo => ({
  sampleRateHz,
  left: runChain(left, sampleRateHz, chain),
  right: runChain(right, sampleRateHz, chain),
});

/** Room for the filters to ring out before the end meets the beginning: a low cut at 20 Hz needs a tenth of it. */
const ringOutSeconds = 0.5;

/**
 * Analogue sections run over samples, by multiplying the spectrum of the whole stream with their response, exact
 * up to half the sample rate. A copy where there are none.
 */
const runAnalogue = (samples: Float64Array, sampleRateHz: Hz, sections: readonly Section[]): Float64Array => {
  if (sections.length === 0) return samples.slice();
  const needed = samples.length + ringOutSeconds * sampleRateHz;
  const length = 2 ** Math.ceil(Math.log2(needed));
  const real = new Float64Array(length);
  real.set(samples);
  const { real: re, imaginary: im } = fourier({ real, imaginary: new Float64Array(length) });
  const response = responseAt(sections, sampleRateHz, length);
  for (let k = 0; k < length; k++) {
    // Above half the rate stand the negative frequencies, at which a real filter answers with the conjugate.
    const bin = Math.min(k, length - k);
    const h = numberAt(response.real, bin);
    const hConjugated = (k > length / 2 ? -1 : 1) * numberAt(response.imaginary, bin);
    const x = numberAt(re, k);
    re[k] = x * h - numberAt(im, k) * hConjugated;
    im[k] = x * hConjugated + numberAt(im, k) * h;
  }
  // The inverse transform, with real and imaginary exchanged before and after.
  return fourier({ real: im, imaginary: re })
    .imaginary.subarray(0, samples.length)
    .map((value) => value / length);
};

/** H at 0 Hz to half the rate; real at half the rate, where nothing else can be. */
const responseAt = (sections: readonly Section[], sampleRateHz: Hz, length: number): Complex => {
  const bins = length / 2 + 1;
  const frequenciesHz = Float64Array.from({ length: bins }, (_, k) => (k * sampleRateHz) / length);
  const power = new Float64Array(bins);
  const phase = new Float64Array(bins);
  magnitudeSquared(sections, frequenciesHz, power);
  phaseRadians(sections, frequenciesHz, phase);
  const real = power.map((value, k) => Math.sqrt(value) * Math.cos(numberAt(phase, k)));
  const imaginary = power.map((value, k) => Math.sqrt(value) * Math.sin(numberAt(phase, k)));
  imaginary[bins - 1] = 0;
  return { real, imaginary };
};

/** Complex numbers, their parts in two arrays of one length. */
export interface Complex {
  readonly real: Float64Array;
  readonly imaginary: Float64Array;
}

/** The places with the bits of their numbers reversed. */
const reversedBits = (length: number): Uint32Array => {
  const places = new Uint32Array(length);
  for (let i = 1; i < length; i++) places[i] = (itemAt(places, i >> 1) >> 1) | (i & 1 ? length >> 1 : 0);
  return places;
};

/**
 * The discrete Fourier transform Σ x[n] e^(−2πi nk/N), by halving (Cooley and Tukey, Math. Comp. 19, 1965).
 * The length must be a power of two. For the inverse exchange real and imaginary before and after, and divide by
 * the length.
 */
export const fourier = ({ real, imaginary }: Complex): Complex => {
  const length = real.length;
  if (!(length > 0 && Number.isInteger(Math.log2(length)))) {
    throw new RangeError(`a length of ${length} is not a power of two`);
  }
  const places = reversedBits(length);
  const re = new Float64Array(length);
  const im = new Float64Array(length);
  places.forEach((place, i) => {
    re[i] = numberAt(real, place);
    im[i] = numberAt(imaginary, place);
  });
  const cosines = Float64Array.from({ length: length / 2 }, (_, k) => Math.cos((2 * Math.PI * k) / length));
  const sines = Float64Array.from({ length: length / 2 }, (_, k) => Math.sin((2 * Math.PI * k) / length));
  for (let half = 1; half < length; half *= 2) {
    const stride = length / (2 * half);
    for (let start = 0; start < length; start += 2 * half) {
      for (let k = 0; k < half; k++) {
        const [i, j] = [start + k, start + k + half];
        const [cosine, sine] = [numberAt(cosines, k * stride), -numberAt(sines, k * stride)];
        const turnedRe = numberAt(re, j) * cosine - numberAt(im, j) * sine;
        const turnedIm = numberAt(re, j) * sine + numberAt(im, j) * cosine;
        re[j] = numberAt(re, i) - turnedRe;
        im[j] = numberAt(im, i) - turnedIm;
        re[i] = numberAt(re, i) + turnedRe;
        im[i] = numberAt(im, i) + turnedIm;
      }
    }
  }
  return { real: re, imaginary: im };
};
