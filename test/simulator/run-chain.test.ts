import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import type { Filter } from '../../src/filters/filter.js';
import type { Realisation } from '../../src/filters/realisation.js';
import { fourier, runChain } from '../../src/simulator/run-chain.js';
import { dbPerOctave, hz, q } from '../../src/units/quantity.js';
import { toneAmplitude } from './measure-separation.js';
import { rateHz, sine } from './signals.js';

const analogue: Realisation = { id: 'a', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null };
const digital: Realisation = { id: 'd', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: rateHz };
const highCut: Filter = { type: 'lowpass', frequencyHz: hz(15000), slopeDbPerOctave: dbPerOctave(12) };
const notch: Filter = { type: 'notch', frequencyHz: hz(19000), q: q(5) };
const lowCut: Filter = { type: 'highpass', frequencyHz: hz(40), slopeDbPerOctave: dbPerOctave(24) };

const levelDbAfter = (filters: readonly Filter[], realisation: Realisation, frequencyHz: number): number => {
  const out = runChain(sine(frequencyHz, 0.6, 1), rateHz, buildChain(filters, realisation));
  return 20 * Math.log10(toneAmplitude(out.subarray(out.length / 2), rateHz, hz(frequencyHz)));
};

describe('running a chain', () => {
  it.each([
    // 10 log10(1 + (f/15000)⁴) and 10 log10(1 + (40/f)⁸): Butterworth, by hand.
    { filters: [highCut], realisation: analogue, frequencyHz: 15000, expectedDb: -3.0103 },
    { filters: [highCut], realisation: analogue, frequencyHz: 19000, expectedDb: -5.5312 },
    { filters: [lowCut], realisation: analogue, frequencyHz: 80, expectedDb: -0.0169 },
    // A notch of Q 5: 20 log10 of x/√(x² + 1/25), x = f/19000 − 19000/f; by hand.
    { filters: [notch], realisation: analogue, frequencyHz: 18000, expectedDb: -6.45 },
    { filters: [notch], realisation: analogue, frequencyHz: 15000, expectedDb: -0.7 },
    // The same tables for the bilinear transform at 48 kHz, frequencies warped by tan(πf/48000); by hand.
    { filters: [highCut], realisation: digital, frequencyHz: 19000, expectedDb: -12.04 },
    { filters: [notch], realisation: digital, frequencyHz: 18900, expectedDb: -13.6 },
  ])('case %#: $frequencyHz Hz, $expectedDb dB', ({ filters, realisation, frequencyHz, expectedDb }) => {
    expect(Math.abs(levelDbAfter(filters, realisation, frequencyHz) - expectedDb)).toBeLessThan(0.05);
  });

  it('runs analogue sections forward in time: nothing comes out before it goes in', () => {
    const click = new Float64Array(4800);
    click[2400] = 1;
    const out = runChain(click, rateHz, buildChain([lowCut], analogue));
    const energy = (samples: Float64Array) => samples.reduce((sum, sample) => sum + sample * sample, 0);
    // But for a trace at 24 kHz, where a sampled response has no phase.
    expect(energy(out.subarray(0, 2400)) / energy(out)).toBeLessThan(1e-5);
    expect(out[2400]).toBeCloseTo(1, 1);
  });

  it('takes both kinds in one chain, and none', () => {
    const tone = sine(19000, 0.1, 1);
    const mixed = [...buildChain([highCut], digital), ...buildChain([highCut], analogue)];
    const out = runChain(tone, rateHz, mixed).subarray(2400);
    expect(20 * Math.log10(toneAmplitude(out, rateHz, hz(19000)))).toBeCloseTo(-12.04 - 5.53, 1);
    expect(runChain(tone, rateHz, [])).toEqual(tone);
  });

  it('refuses a section for another sample rate', () => {
    const other = buildChain([highCut], { ...digital, sampleRateHz: hz(96000) });
    expect(() => runChain(new Float64Array(8), rateHz, other)).toThrow(/96000/);
  });
});

describe('fourier', () => {
  it('refuses lengths that are no power of two', () => {
    expect(() => fourier({ real: new Float64Array(12), imaginary: new Float64Array(12) })).toThrow(
      RangeError,
    );
  });
});
