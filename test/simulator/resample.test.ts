import { describe, expect, it } from 'vitest';
import { deEmphasise, preEmphasise } from '../../src/simulator/emphasis.js';
import { compositeFactor, decimate, interpolate, kaiserLowPass } from '../../src/simulator/resample.js';
import { hz } from '../../src/units/quantity.js';
import { toneAmplitude } from './measure-separation.js';
import { sine } from './signals.js';

/** The level of a tone in the middle of a stretch, in dB. */
const levelDb = (samples: Float64Array, rate: number, frequencyHz: number): number => {
  const middle = samples.subarray(Math.floor(samples.length / 5), Math.floor((4 * samples.length) / 5));
  return 20 * Math.log10(toneAmplitude(middle, hz(rate), hz(frequencyHz)));
};

describe('the composite’s rate', () => {
  it.each([
    { audioHz: 44100, factor: 4 },
    { audioHz: 48000, factor: 4 },
    { audioHz: 88200, factor: 2 },
    { audioHz: 96000, factor: 2 },
    { audioHz: 192000, factor: 1 },
  ])('is $factor times $audioHz Hz: room for 38 + 23 kHz', ({ audioHz, factor }) => {
    expect(compositeFactor(hz(audioHz))).toBe(factor);
  });
});

describe('interpolation', () => {
  it.each([
    { audioHz: 48000, frequencyHz: 1000 },
    { audioHz: 48000, frequencyHz: 15000 },
    { audioHz: 48000, frequencyHz: 19000 },
    { audioHz: 48000, frequencyHz: 22000 },
    { audioHz: 48000, frequencyHz: 23000 },
    { audioHz: 44100, frequencyHz: 19000 },
    { audioHz: 44100, frequencyHz: 21000 },
    { audioHz: 96000, frequencyHz: 23000 },
  ])(
    'at $audioHz Hz keeps $frequencyHz Hz within 0.0005 dB, its image 90 dB down',
    ({ audioHz, frequencyHz }) => {
      const factor = compositeFactor(hz(audioHz));
      const up = interpolate(sine(frequencyHz, 0.2, 1, 0, audioHz), hz(audioHz), factor);
      expect(up).toHaveLength(0.2 * audioHz * factor);
      expect(Math.abs(levelDb(up, factor * audioHz, frequencyHz))).toBeLessThan(0.0005);
      expect(levelDb(up, factor * audioHz, audioHz - frequencyHz)).toBeLessThan(-90);
    },
  );

  it('delays nothing', () => {
    const up = interpolate(sine(3000, 0.05, 1), hz(48000), 4);
    const there = sine(3000, 0.05, 1, 0, 192000);
    for (let n = 3000; n < 6000; n++)
      expect(Math.abs((up[n] as number) - (there[n] as number))).toBeLessThan(1e-4);
  });
});

describe('decimation', () => {
  it('keeps what its low-pass keeps, stops what it stops, and delays nothing', () => {
    const taps = kaiserLowPass({ passHz: 15000, stopHz: 18500, sampleRateHz: 192000, stopDb: 90 });
    const kept = decimate(sine(15000, 0.2, 1, 0, 192000), taps, 4);
    expect(Math.abs(levelDb(kept, 48000, 15000))).toBeLessThan(0.0005);
    expect(Math.abs((kept[4000] as number) - (sine(15000, 0.2, 1)[4000] as number))).toBeLessThan(1e-4);
    // 19 kHz stays where it is, 29 kHz would fold to 19 kHz.
    for (const frequencyHz of [19000, 29000, 90000]) {
      const stopped = decimate(sine(frequencyHz, 0.2, 1, 0, 192000), taps, 4);
      expect(levelDb(stopped, 48000, 19000)).toBeLessThan(-90);
    }
  });
});

describe('emphasis at 192 kHz', () => {
  // 10 log10(1 + (2πfτ)²), the curve of ITU-R BS.450; by hand.
  it.each([
    { microseconds: 50, frequencyHz: 1000, expectedDb: 0.4089 },
    { microseconds: 50, frequencyHz: 10000, expectedDb: 10.3621 },
    { microseconds: 50, frequencyHz: 19000, expectedDb: 15.6384 },
    { microseconds: 50, frequencyHz: 23000, expectedDb: 17.2599 },
    { microseconds: 75, frequencyHz: 15000, expectedDb: 17.0729 },
    { microseconds: 75, frequencyHz: 19000, expectedDb: 19.0937 },
    { microseconds: 75, frequencyHz: 23000, expectedDb: 20.7362 },
  ])('$microseconds µs at $frequencyHz Hz', ({ microseconds, frequencyHz, expectedDb }) => {
    const tone = sine(frequencyHz, 0.1, 1, 0, 192000);
    const up = preEmphasise(tone, hz(192000), microseconds);
    expect(Math.abs(levelDb(up, 192000, frequencyHz) - expectedDb)).toBeLessThan(0.0002);
    // An RC's admittance leads by atan(2πfτ): amplitude and phase are those of 1 + sτ.
    const lead = Math.atan(2 * Math.PI * frequencyHz * microseconds * 1e-6);
    const there = sine(frequencyHz, 0.1, 10 ** (expectedDb / 20), lead, 192000);
    expect(Math.abs((up[9000] as number) - (there[9000] as number))).toBeLessThan(1e-3);
    if (frequencyHz <= 15000) {
      const down = deEmphasise(up, hz(192000), microseconds);
      expect(Math.abs(levelDb(down, 192000, frequencyHz))).toBeLessThan(0.001);
    }
  });

  it('is a wire where there is none', () => {
    const tone = sine(10000, 0.01, 1, 0, 192000);
    expect(preEmphasise(tone, hz(192000), 0)).toEqual(tone);
    expect(deEmphasise(tone, hz(192000), 0)).toEqual(tone);
  });
});
