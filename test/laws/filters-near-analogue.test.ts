import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { logFrequencies } from '../../src/filters/response.js';
import { hz } from '../../src/units/quantity.js';
import { build, levelsDb } from '../filters/measure.js';

const between = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true });
const byRatio = (low: number, high: number) => between(Math.log(low), Math.log(high)).map(Math.exp);
const sampleRates = fc.constantFrom(44100, 48000, 96000, 192000);

describe('how near the designs come to the analogue curve, up to a quarter of the sample rate', () => {
  const bells = { type: fc.constant('peaking'), q: byRatio(0.5, 30), gainDb: between(-18, 18) };
  const notches = { type: fc.constant('notch'), q: byRatio(0.5, 30) };
  const lowCuts = { type: fc.constant('highpass'), q: byRatio(0.5, 3) };

  // The bounds are what these designs reach at their widest setting, rounded up; narrow filters come nearer.
  it.each([
    { design: 'cookbook', below: 10, kind: 'bells', told: bells, boundDb: 1.8 },
    { design: 'matched', below: 10, kind: 'bells', told: bells, boundDb: 0.4 },
    { design: 'nyquist-gain', below: 10, kind: 'bells', told: bells, boundDb: 0.5 },
    { design: 'cookbook', below: 50, kind: 'bells', told: bells, boundDb: 0.3 },
    { design: 'matched', below: 50, kind: 'bells', told: bells, boundDb: 0.03 },
    { design: 'nyquist-gain', below: 50, kind: 'bells', told: bells, boundDb: 0.1 },
    { design: 'cookbook', below: 10, kind: 'notches', told: notches, boundDb: 1 },
    { design: 'matched', below: 10, kind: 'notches', told: notches, boundDb: 0.1 },
    { design: 'nyquist-gain', below: 10, kind: 'notches', told: notches, boundDb: 0.6 },
    { design: 'cookbook', below: 50, kind: 'low cuts', told: lowCuts, boundDb: 0.03 },
    { design: 'matched', below: 50, kind: 'low cuts', told: lowCuts, boundDb: 0.03 },
  ] as const)(
    '$design: $kind at or below 1/$below of it, within $boundDb dB',
    ({ design, below, told, boundDb }) => {
      fc.assert(
        fc.property(
          fc.record(told as Record<string, fc.Arbitrary<unknown>>),
          sampleRates,
          between(0, 1),
          (filter, fs, place) => {
            const frequencyHz = 20 * (fs / below / 20) ** place;
            const frequenciesHz = logFrequencies(hz(20), hz(fs / 4), 12);
            const digital = levelsDb(build({ ...filter, frequencyHz }, design, fs), frequenciesHz);
            const analogue = levelsDb(build({ ...filter, frequencyHz }, 'analogue', null), frequenciesHz);
            // Below −40 dB the sides of a notch are so steep that a difference in dB says little.
            const apart = digital.map((level, i) =>
              Math.abs(Math.max(-40, level) - Math.max(-40, analogue[i] as number)),
            );
            expect(Math.max(...apart)).toBeLessThan(boundDb);
          },
        ),
        { numRuns: 200 },
      );
    },
  );
});
