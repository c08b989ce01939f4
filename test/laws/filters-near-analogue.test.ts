import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { logFrequencies } from '../../src/filters/response.js';
import { hz } from '../../src/units/quantity.js';
import { build, levelsDb } from '../filters/measure.js';

const between = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true });
const byRatio = (low: number, high: number) => between(Math.log(low), Math.log(high)).map(Math.exp);
const sampleRates = fc.constantFrom(44100, 48000, 96000, 192000);

const bells = { type: fc.constant('peaking'), q: byRatio(0.5, 30), gainDb: between(-18, 18) };
const notches = { type: fc.constant('notch'), q: byRatio(0.5, 30) };
const lowCuts = { type: fc.constant('highpass'), q: byRatio(0.5, 3) };
const highCuts = { type: fc.constant('lowpass'), q: byRatio(0.5, 3) };
const shelves = { type: fc.constant('highshelf'), q: byRatio(0.3, 1), gainDb: between(-18, 18) };

type Told = Readonly<Record<string, fc.Arbitrary<unknown>>>;

/** Below −40 dB the sides of a notch are so steep that a difference in dB says little. */
const apartDb = (a: readonly number[], b: readonly number[]): number =>
  Math.max(...a.map((level, i) => Math.abs(Math.max(-40, level) - Math.max(-40, b[i] as number))));

describe('how digital filters come by the analogue curve', () => {
  // W3C Audio EQ Cookbook (Note of 8 June 2021): s ← (1 / tan(ω0/2)) (1 − z⁻¹) / (1 + z⁻¹), so that on the unit circle
  // a filter does at f what its prototype does at f0 · tan(π f / fs) / tan(π f0 / fs).
  it.each([
    { kind: 'bells', told: bells },
    { kind: 'notches', told: notches },
    { kind: 'low cuts', told: lowCuts },
    { kind: 'high cuts', told: highCuts },
    { kind: 'high shelves', told: shelves },
  ])('the cookbook takes it over with its frequencies bent: $kind', ({ told }) => {
    fc.assert(
      fc.property(fc.record(told as Told), sampleRates, between(0, 1), (filter, fs, place) => {
        const frequencyHz = 20 * ((0.45 * fs) / 20) ** place;
        const frequenciesHz = logFrequencies(hz(20), hz(0.49 * fs), 6);
        const bent = frequenciesHz.map(
          (f) => (frequencyHz * Math.tan((Math.PI * f) / fs)) / Math.tan((Math.PI * frequencyHz) / fs),
        );
        const digital = levelsDb(build({ ...filter, frequencyHz }, 'cookbook', fs), frequenciesHz);
        const analogue = levelsDb(build({ ...filter, frequencyHz }, 'analogue', null), bent);
        expect(apartDb(digital, analogue)).toBeLessThan(1e-6);
      }),
      { numRuns: 150 },
    );
  });

  // To hold the analogue curve where the bilinear transform leaves it is what both designs are for: Orfanidis, JAES
  // 45(6), 1997, abstract; Vicanek, "Matched Second Order Digital Filters", 2016. Room for a twentieth of a dB, where
  // both are as good as there.
  it.each([
    { design: 'matched', kind: 'bells', told: bells },
    { design: 'nyquist-gain', kind: 'bells', told: bells },
    { design: 'matched', kind: 'notches', told: notches },
    { design: 'nyquist-gain', kind: 'notches', told: notches },
  ] as const)('$design stays nearer to it than the cookbook: $kind', ({ design, told }) => {
    fc.assert(
      fc.property(fc.record(told as Told), sampleRates, between(0, 1), (filter, fs, place) => {
        const frequencyHz = 200 * (fs / 2.5 / 200) ** place;
        const frequenciesHz = logFrequencies(hz(20), hz(0.48 * fs), 12);
        const levels = (by: 'cookbook' | 'matched' | 'nyquist-gain' | 'analogue') =>
          levelsDb(build({ ...filter, frequencyHz }, by, by === 'analogue' ? null : fs), frequenciesHz);
        const analogue = levels('analogue');
        expect(apartDb(levels(design), analogue)).toBeLessThan(apartDb(levels('cookbook'), analogue) + 0.05);
      }),
      { numRuns: 200 },
    );
  });
});
