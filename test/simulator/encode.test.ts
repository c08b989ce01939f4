import { describe, expect, it } from 'vitest';
import type { Modulation } from '../../src/guard/modulation.js';
import { encode } from '../../src/simulator/encode.js';
import { db, hz } from '../../src/units/quantity.js';
import { toneAmplitude } from './measure-separation.js';
import { leftOnly, mono, rightOnly, sine } from './signals.js';

const modulation: Modulation = { pilotHz: hz(19000), preEmphasisMicroseconds: 50, lineUpDbfs: db(-6) };
const lineUpPeak = 10 ** (-6 / 20);

/** All but the ends, where the filters begin and end in silence. */
const middle = (samples: Float64Array) => samples.subarray(19200, samples.length - 19200);
const highest = (samples: Float64Array) =>
  samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);

describe('composite', () => {
  it.each([
    { what: 'both', programme: mono },
    { what: 'left only', programme: leftOnly },
    { what: 'right only', programme: rightOnly },
  ])('a sine at the line-up takes 90 % of deviation: $what', ({ programme }) => {
    // Near 1 kHz, but no divisor of 38 kHz, so that its crests meet every phase of the subcarrier.
    const { samples } = encode(programme(sine(997, 0.6, lineUpPeak)), modulation, { pilotDeviation: 0 });
    expect(highest(middle(samples))).toBeGreaterThan(0.899);
    expect(highest(middle(samples))).toBeLessThan(0.9001);
  });

  it('silence leaves the pilot alone, 9 % of deviation, rising through zero at the start', () => {
    const { samples, sampleRateHz } = encode(mono(new Float64Array(4800)), modulation);
    expect(sampleRateHz).toBe(192000);
    expect(samples[0]).toBe(0);
    for (const n of [1, 7, 100, 9999]) {
      expect(samples[n]).toBeCloseTo(0.09 * Math.sin((2 * Math.PI * 19 * n) / 192), 12);
    }
  });

  /**
   * 47 CFR 73.322(a): main channel L + R, a subcarrier of twice the pilot, double sideband, L − R; where the pilot
   * crosses zero the subcarrier crosses upwards. The composite of a tone written out in sines.
   */
  it.each([
    { what: 'left only', programme: leftOnly, sign: 1 },
    { what: 'right only', programme: rightOnly, sign: -1 },
  ])('is M + S sin 2ωt + p sin ωt, $what', ({ programme, sign }) => {
    const { samples } = encode(programme(sine(5000, 0.4, 0.25)), {
      ...modulation,
      preEmphasisMicroseconds: 0,
    });
    const gain = 0.9 / lineUpPeak;
    for (let n = 30000; n < 30400; n++) {
      const t = n / 192000;
      const tone = 0.25 * Math.sin(2 * Math.PI * 5000 * t);
      const expected =
        gain * (tone / 2 + ((sign * tone) / 2) * Math.sin(2 * Math.PI * 38000 * t)) +
        0.09 * Math.sin(2 * Math.PI * 19000 * t);
      expect(Math.abs((samples[n] as number) - expected)).toBeLessThan(1e-4);
    }
  });

  // The mirror rule: in left only M and S have half the tone each, and S arrives at half of that on either side.
  it.each([
    { frequencyHz: 18980, share: 1 / 2 },
    { frequencyHz: 19020, share: 1 / 4 },
    { frequencyHz: 56980, share: 1 / 4 },
    { frequencyHz: 18900, share: 0 },
  ])('of 18980 Hz in left only $share arrives at $frequencyHz Hz', ({ frequencyHz, share }) => {
    const { samples } = encode(leftOnly(sine(18980, 0.5, 0.1)), modulation, { pilotDeviation: 0 });
    const rise = Math.sqrt(
      (1 + (2 * Math.PI * 18980 * 50e-6) ** 2) / (1 + (2 * Math.PI * 1000 * 50e-6) ** 2),
    );
    const found = toneAmplitude(middle(samples), hz(192000), hz(frequencyHz));
    expect(found / ((0.1 * 0.9 * rise) / lineUpPeak)).toBeCloseTo(share, 4);
  });
});
