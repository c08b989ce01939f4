import { magnitudeSquared, phaseRadians } from '../filters/response.js';
import type { Section } from '../filters/section.js';
import type { Hz } from '../units/quantity.js';
import { type Complex, fourier } from './fourier.js';

/** Room for the filters to ring out before the end meets the beginning: a low cut at 20 Hz needs a tenth of it. */
const ringOutSeconds = 0.5;

/**
 * Analogue sections run over samples, by multiplying the spectrum of the whole stream with their response, exact
 * up to half the sample rate. A copy where there are none.
 */
export const runAnalogue = (
  samples: Float64Array,
  sampleRateHz: Hz,
  sections: readonly Section[],
): Float64Array => {
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
    const h = response.real[bin] as number;
    const hConjugated = (k > length / 2 ? -1 : 1) * (response.imaginary[bin] as number);
    const x = re[k] as number;
    re[k] = x * h - (im[k] as number) * hConjugated;
    im[k] = x * hConjugated + (im[k] as number) * h;
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
  const real = power.map((value, k) => Math.sqrt(value) * Math.cos(phase[k] as number));
  const imaginary = power.map((value, k) => Math.sqrt(value) * Math.sin(phase[k] as number));
  imaginary[bins - 1] = 0;
  return { real, imaginary };
};
