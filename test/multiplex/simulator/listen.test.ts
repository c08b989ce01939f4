import { describe, expect, it } from 'vitest';
import { buildChain } from '../../../src/filters/build.js';
import type { Filter } from '../../../src/filters/filter.js';
import { builtInProgramme, highestSample } from '../../../src/multiplex/simulator/built-in-programme.js';
import { listen } from '../../../src/multiplex/simulator/listen.js';
import { randomFrom } from '../../../src/multiplex/simulator/random.js';
import { runChainOnBoth } from '../../../src/multiplex/simulator/run-chain.js';
import { toneAmplitude } from '../../../src/multiplex/simulator/tone-amplitude.js';
import { db, dbPerOctave, hz, q } from '../../../src/units/quantity.js';
import { leftOnly, mono, plus, rateHz, sine } from './signals.js';

const options = { pilotHz: hz(19000), preEmphasisMicroseconds: 50, lineUpDbfs: db(-6) };
const filters: readonly Filter[] = [
  { type: 'highpass', frequencyHz: hz(40), slopeDbPerOctave: dbPerOctave(12) },
  { type: 'lowpass', frequencyHz: hz(15000), slopeDbPerOctave: dbPerOctave(12) },
  { type: 'notch', frequencyHz: hz(19000), q: q(3) },
];
const digital = { id: '48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: rateHz } as const;
const chain = buildChain(filters, digital);
const analogueChain = buildChain(filters, { ...digital, design: 'analogue', sampleRateHz: null });

/** Bit for bit; `toEqual` takes half a second for this. */
const same = (one: Float64Array, other: Float64Array): boolean =>
  one.length === other.length && one.every((sample, n) => Object.is(sample, other[n]));

describe('built-in programme', () => {
  const programme = builtInProgramme(2, rateHz, 7);

  it('is the same for the same seed, another for another', () => {
    const again = builtInProgramme(2, rateHz, 7);
    expect(same(again.left, programme.left)).toBe(true);
    expect(same(again.right, programme.right)).toBe(true);
    expect(same(builtInProgramme(2, rateHz, 8).left, programme.left)).toBe(false);
  });

  it('has two channels that differ, of the length asked for, below full scale', () => {
    expect(programme.left).toHaveLength(96000);
    expect(programme.right).toHaveLength(96000);
    expect(same(programme.left, programme.right)).toBe(false);
    expect(highestSample(programme.left, programme.right)).toBeCloseTo(0.9, 12);
  });

  it('has a steady tone that stands to the left', () => {
    const level = (samples: Float64Array) => toneAmplitude(samples, rateHz, hz(330));
    expect(level(programme.left)).toBeGreaterThan(0.05);
    expect(level(programme.left) / level(programme.right)).toBeCloseTo(1 / 0.3, 1);
    expect(level(programme.left.subarray(0, 48000)) / level(programme.left.subarray(48000))).toBeCloseTo(
      1,
      1,
    );
  });

  it('is bright where it matters', () => {
    const treble = buildChain([{ type: 'bandpass', frequencyHz: hz(19000), q: q(5) }], {
      ...digital,
      design: 'analogue',
      sampleRateHz: null,
    });
    const power = (samples: Float64Array) => samples.reduce((sum, x) => sum + x * x, 0);
    const { left } = runChainOnBoth(programme, treble);
    // Of white noise up to 24 kHz a resonance of Q 5 at 19 kHz lets through π/2 · 19/5/24, a quarter.
    expect(power(left) / power(programme.left)).toBeGreaterThan(0.05);
  });

  it.each([0, -1, 1.5, 2 ** 32, Number.NaN])('refuses %d as a seed', (seed) => {
    expect(() => randomFrom(seed)).toThrow(RangeError);
  });

  it.each([0, -1, Number.NaN, Infinity])('refuses to last %d s', (seconds) => {
    expect(() => builtInProgramme(seconds, rateHz, 1)).toThrow(RangeError);
  });
});

describe('listening', () => {
  const programme = builtInProgramme(1.5, rateHz, 1);
  const before = listen(programme, null, options);
  const after = listen(programme, chain, options);

  it('loses the pilot without filters and holds it with them', () => {
    expect(before.lock.kept).toBe(false);
    expect(before.lock.lockedShare).toBeLessThan(1);
    expect(before.lock.cycleSlips).toBeGreaterThan(0);
    expect(after.lock.kept).toBe(true);
    expect(after.lock.lockedShare).toBe(1);
    expect(after.lock.peakRadians).toBeLessThan(0.3);
  });

  it('does so for the filters’ analogue prototypes as well', () => {
    expect(listen(programme, analogueChain, options).lock.kept).toBe(true);
  });

  it('gives as much as it was given, at 48 kHz, and never above full scale', () => {
    for (const { audio, gainDb } of [before, after]) {
      expect(audio.sampleRateHz).toBe(48000);
      expect(audio.left).toHaveLength(72000);
      expect(audio.right).toHaveLength(72000);
      expect(highestSample(audio.left, audio.right)).toBeLessThanOrEqual(1);
      expect(gainDb).toBeLessThanOrEqual(0);
    }
  });

  it('is the same every time', () => {
    const again = listen(programme, chain, options);
    expect(again.lock).toEqual(after.lock);
    expect(same(again.audio.left, after.audio.left)).toBe(true);
    expect(same(again.audio.right, after.audio.right)).toBe(true);
  });

  it('keeps the tone on its side with the filters', () => {
    const level = (samples: Float64Array) => toneAmplitude(samples, rateHz, hz(330));
    expect(level(after.audio.left) / level(after.audio.right)).toBeCloseTo(1 / 0.3, 1);
    expect(level(after.audio.left) / level(programme.left)).toBeCloseTo(1, 2);
  });
});

describe('going mono', () => {
  // A tone beside the pilot, nine times as strong, yet too far away for a loop of 30 Hz to go along with it: no lock.
  const disturbed = plus(sine(1000, 2, 0.2), sine(18850, 2, 0.158));
  const heard = listen(leftOnly(disturbed), null, options);
  const level = (samples: Float64Array) => toneAmplitude(samples.subarray(48000), rateHz, hz(1000));

  it('puts left in both channels at half its level while the pilot is lost', () => {
    expect(heard.lock.lockedShare).toBeLessThan(0.2);
    expect(level(heard.audio.left)).toBeCloseTo(0.1, 3);
    expect(level(heard.audio.right)).toBeCloseTo(0.1, 3);
  });

  it('and back in left alone once a filter has helped', () => {
    const mended = listen(leftOnly(disturbed), chain, options);
    expect(mended.lock.lockedShare).toBe(1);
    expect(20 * Math.log10(level(mended.audio.left) / level(mended.audio.right))).toBeGreaterThan(30);
  });
});

describe('levels', () => {
  it('are turned down, and said so, where they would pass full scale', () => {
    const { audio, gainDb } = listen(mono(sine(1000, 0.5, 1.5)), null, options);
    expect(highestSample(audio.left, audio.right)).toBeCloseTo(1, 12);
    expect(highestSample(audio.left, audio.right)).toBeLessThanOrEqual(1);
    expect(gainDb).toBeCloseTo(-3.52, 1);
  });

  it('are left alone otherwise', () => {
    expect(listen(mono(sine(1000, 0.2, 0.5)), null, options).gainDb).toBe(0);
  });
});

it.each([
  { from: 44100, to: 44100 },
  { from: 88200, to: 44100 },
  { from: 96000, to: 48000 },
])('a programme at $from Hz is heard at $to Hz', ({ from, to }) => {
  const heard = listen(builtInProgramme(0.1, hz(from), 1), null, options);
  expect(heard.audio.sampleRateHz).toBe(to);
  expect(heard.audio.left).toHaveLength(to / 10);
});
