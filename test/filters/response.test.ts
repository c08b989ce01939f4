import { describe, expect, it } from 'vitest';
import {
  attenuationDbAt,
  groupDelaySeconds,
  logFrequencies,
  magnitudeDb,
  magnitudeSquared,
  phaseRadians,
} from '../../src/filters/response.js';
import type { Section } from '../../src/filters/section.js';
import { hz } from '../../src/units/quantity.js';
import { build } from './measure.js';

const of = (measure: typeof magnitudeDb, sections: readonly Section[], ...frequenciesHz: number[]) => {
  const out = new Float64Array(frequenciesHz.length);
  measure(sections, Float64Array.from(frequenciesHz), out);
  return [...out];
};

const lowCut = (sampleRateHz: number | null) =>
  build(
    { type: 'highpass', frequencyHz: 40, slopeDbPerOctave: 24 },
    sampleRateHz ? 'cookbook' : 'analogue',
    sampleRateHz,
  );

describe('magnitude', () => {
  it('of no sections is that of a wire', () => {
    expect(of(magnitudeSquared, [], 0, 1000, 1e6)).toEqual([1, 1, 1]);
    expect(of(magnitudeDb, [], 1000)).toEqual([0]);
    expect(Object.is(attenuationDbAt([], hz(1000)), 0)).toBe(true);
  });

  it('ends at −200 dB', () => {
    const notch = build({ type: 'notch', frequencyHz: 19000, q: 10 }, 'analogue', null);
    expect(of(magnitudeSquared, notch, 19000)).toEqual([0]);
    expect(of(magnitudeDb, notch, 19000)).toEqual([-200]);
    expect(attenuationDbAt(notch, hz(19000))).toBe(200);
  });

  it.each([48000, 96000, 192000])('of a low cut at 20 Hz keeps its precision at %d Hz', (sampleRateHz) => {
    // A Butterworth of order 4 where the bilinear transform puts each frequency: tan(πf/fs) for f.
    const warped = (f: number) => Math.tan((Math.PI * f) / sampleRateHz);
    for (const frequencyHz of [0.5, 5, 20, 40]) {
      const expected = -10 * Math.log10(1 + (warped(40) / warped(frequencyHz)) ** 8);
      expect(of(magnitudeDb, lowCut(sampleRateHz), frequencyHz)[0]).toBeCloseTo(expected, 6);
    }
  });

  it('is NaN below 0 Hz, and above half the sample rate of any one digital section', () => {
    const mixed = [...lowCut(null), ...lowCut(48000), ...lowCut(96000)];
    for (const measure of [magnitudeSquared, magnitudeDb, phaseRadians, groupDelaySeconds]) {
      expect(of(measure, lowCut(null), -1, 1e6).map(Number.isNaN)).toEqual([true, false]);
      expect(of(measure, mixed, -1, 0, 24000, 24000.1, 50000).map(Number.isNaN)).toEqual([
        true,
        false,
        false,
        true,
        true,
      ]);
    }
  });

  it('mixes analogue and digital sections', () => {
    const both = [...lowCut(null), ...lowCut(96000)];
    const [one, other] = [of(magnitudeDb, lowCut(null), 33)[0], of(magnitudeDb, lowCut(96000), 33)[0]];
    expect(of(magnitudeDb, both, 33)[0]).toBeCloseTo((one as number) + (other as number), 10);
  });

  it('wants one place per frequency', () => {
    for (const measure of [magnitudeSquared, magnitudeDb, phaseRadians, groupDelaySeconds]) {
      expect(() => measure([], new Float64Array(2), new Float64Array(3))).toThrow(RangeError);
    }
  });
});

describe('phase and group delay', () => {
  it('of an analogue high cut: −90° at its frequency, delay 1/(Q ω0) at DC and 2Q/ω0 there', () => {
    const cut = build({ type: 'lowpass', frequencyHz: 1000, q: 2 }, 'analogue', null);
    expect(of(phaseRadians, cut, 0, 1000)).toEqual([0, -Math.PI / 2]);
    // For 1/(s² + s/Q + 1): dφ/dx at x = 0 is −1/Q and at x = 1 is −2Q.
    const [atDc, atCut] = of(groupDelaySeconds, cut, 0, 1000);
    expect(atDc).toBeCloseTo(0.5 / (2 * Math.PI * 1000), 15);
    expect(atCut).toBeCloseTo(4 / (2 * Math.PI * 1000), 15);
  });

  it.each(['lowpass', 'highpass'])(
    'at the zero of a first-order %s the delay is the limit beside it',
    (type) => {
      const cut = build({ type, frequencyHz: 5000, slopeDbPerOctave: 6 }, 'cookbook', 48000);
      const zeroHz = type === 'lowpass' ? 24000 : 0;
      const [at, beside] = of(groupDelaySeconds, cut, zeroHz, Math.abs(zeroHz - 1));
      expect(at).toBeGreaterThan(0);
      expect(at).toBeCloseTo(beside as number, 11);
    },
  );

  it('stays within (−π, π] over a long chain', () => {
    const chain = Array.from({ length: 5 }, () => lowCut(48000)).flat();
    const phases = of(phaseRadians, chain, ...logFrequencies(hz(5), hz(20000), 12));
    expect(Math.max(...phases)).toBeLessThanOrEqual(Math.PI);
    expect(Math.min(...phases)).toBeGreaterThan(-Math.PI);
    expect(Math.max(...phases) - Math.min(...phases)).toBeGreaterThan(5);
  });
});

describe('logFrequencies', () => {
  it.each([
    ['both ends of whole octaves, once each', 20, 160, 1, [20, 40, 80, 160]],
    ['an upper end between steps', 100, 250, 1, [100, 200, 250]],
    ['parts of an octave', 1000, 2000, 2, [1000, 1000 * Math.SQRT2, 2000]],
    ['a single frequency', 1000, 1000, 24, [1000]],
    ['ends closer than a step', 1000, 1001, 3, [1000, 1001]],
  ])('has %s', (_, fromHz, toHz, perOctave, expected) => {
    const found = [...logFrequencies(hz(fromHz), hz(toHz), perOctave)];
    expect(found).toHaveLength(expected.length);
    expected.forEach((frequencyHz, i) => {
      expect(found[i]).toBeCloseTo(frequencyHz, 9);
    });
    expect(found.at(-1)).toBe(toHz);
  });

  it('does not double an upper end that rounding puts beside a step', () => {
    for (const perOctave of [3, 6, 12, 24, 48]) {
      for (let octaves = 1; octaves <= 12; octaves++) {
        const points = logFrequencies(hz(19.7), hz(19.7 * 2 ** octaves), perOctave);
        expect(points).toHaveLength(octaves * perOctave + 1);
      }
    }
  });

  it.each([
    [0, 100, 1],
    [200, 100, 1],
    [20, Number.NaN, 1],
    [20, 100, 0],
  ])('throws RangeError for %d to %d at %d', (fromHz, toHz, perOctave) => {
    expect(() => logFrequencies(hz(fromHz), hz(toHz), perOctave)).toThrow(RangeError);
  });
});
