import { buildSections } from '../../src/filters/build.js';
import type { Filter } from '../../src/filters/filter.js';
import type { DesignName, QMeaning, Realisation } from '../../src/filters/realisation.js';
import { attenuationDbAt, magnitudeDb } from '../../src/filters/response.js';
import type { Section } from '../../src/filters/section.js';
import { hz } from '../../src/units/quantity.js';

export const realisation = (
  design: DesignName,
  sampleRateHz: number | null,
  qMeaning: QMeaning = 'cookbook',
): Realisation => ({
  id: design,
  design,
  qMeaning,
  sampleRateHz: sampleRateHz === null ? null : hz(sampleRateHz),
});

export const build = (
  filter: object,
  design: DesignName,
  sampleRateHz: number | null,
  qMeaning: QMeaning = 'cookbook',
): readonly Section[] => buildSections(filter as Filter, realisation(design, sampleRateHz, qMeaning));

export const dbAt = (sections: readonly Section[], frequencyHz: number): number =>
  -attenuationDbAt(sections, hz(frequencyHz));

export const levelsDb = (sections: readonly Section[], frequenciesHz: Float64Array): number[] => {
  const out = new Float64Array(frequenciesHz.length);
  magnitudeDb(sections, frequenciesHz, out);
  return [...out];
};

/** Where `f` passes zero between two frequencies, found by bisection on a logarithmic scale. */
export const crossing = (f: (frequencyHz: number) => number, fromHz: number, toHz: number): number => {
  let [low, high] = [fromHz, toHz];
  const rising = f(high) > 0;
  for (let i = 0; i < 200; i++) {
    const middle = Math.sqrt(low * high);
    if (f(middle) > 0 === rising) high = middle;
    else low = middle;
  }
  return Math.sqrt(low * high);
};

/** The width in hertz between the two points, either side of a centre, where a response is `levelDb`. */
export const widthHz = (
  response: (frequencyHz: number) => number,
  centreHz: number,
  levelDb: number,
  topHz: number,
): { readonly lowHz: number; readonly highHz: number } => {
  const excess = (frequencyHz: number) => response(frequencyHz) - levelDb;
  return { lowHz: crossing(excess, 1e-3 * centreHz, centreHz), highHz: crossing(excess, centreHz, topHz) };
};

/** H at one frequency in plain complex arithmetic: [real, imaginary]. */
export const complexResponse = (sections: readonly Section[], frequencyHz: number): [number, number] => {
  let [re, im] = [1, 0];
  for (const { domain, rateHz, b0, b1, b2, a0, a1, a2 } of sections) {
    // u is z⁻¹ or s, and both polynomials are c0 + c1 u + c2 u².
    const angle = (2 * Math.PI * frequencyHz) / rateHz;
    const [ur, ui] = domain === 'z' ? [Math.cos(angle), -Math.sin(angle)] : [0, frequencyHz / rateHz];
    const [vr, vi] = [ur * ur - ui * ui, 2 * ur * ui];
    const [nr, ni] = [b0 + b1 * ur + b2 * vr, b1 * ui + b2 * vi];
    const [dr, di] = [a0 + a1 * ur + a2 * vr, a1 * ui + a2 * vi];
    const power = dr * dr + di * di;
    const [hr, hi] = [(nr * dr + ni * di) / power, (ni * dr - nr * di) / power];
    [re, im] = [re * hr - im * hi, re * hi + im * hr];
  }
  return [re, im];
};
