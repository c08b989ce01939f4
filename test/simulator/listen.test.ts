import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import type { Filter } from '../../src/filters/filter.js';
import { builtInProgramme, randomFrom } from '../../src/simulator/built-in-programme.js';
import { encode } from '../../src/simulator/encode.js';
import { listen } from '../../src/simulator/listen.js';
import { highestSample, type Stereo } from '../../src/simulator/stereo.js';
import { db, dbPerOctave, hz, q } from '../../src/units/quantity.js';
import { toneAmplitude } from './measure-separation.js';
import { leftOnly, mono, plus, rateHz, sine } from './signals.js';

const pilotHz = hz(19000);
const options = { pilotHz, preEmphasisMicroseconds: 50, lineUpDbfs: db(0) };
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
  const programme = builtInProgramme(2, rateHz, 7, pilotHz);
  const level = (samples: Float64Array, frequencyHz: number) =>
    toneAmplitude(samples, rateHz, hz(frequencyHz));

  it('is the same for the same seed, another for another', () => {
    const again = builtInProgramme(2, rateHz, 7, pilotHz);
    expect(same(again.left, programme.left)).toBe(true);
    expect(same(again.right, programme.right)).toBe(true);
    expect(same(builtInProgramme(2, rateHz, 8, pilotHz).left, programme.left)).toBe(false);
  });

  it('has two channels that differ, of the length asked for, the louder one at -18 dBFS RMS', () => {
    expect(programme.left).toHaveLength(96000);
    expect(programme.right).toHaveLength(96000);
    expect(same(programme.left, programme.right)).toBe(false);
    // 0 dBFS is the RMS of a full-scale sine, 1/√2.
    const rms = Math.sqrt(programme.left.reduce((sum, x) => sum + x * x, 0) / 96000);
    expect(20 * Math.log10(rms * Math.SQRT2)).toBeCloseTo(-18, 6);
    expect(highestSample(programme.left, programme.right)).toBeLessThan(1);
  });

  it('has a steady tone that stands to the left', () => {
    expect(level(programme.left, 330)).toBeGreaterThan(0.05);
    expect(level(programme.left, 330) / level(programme.right, 330)).toBeCloseTo(1 / 0.3, 1);
    const halves = [programme.left.subarray(0, 48000), programme.left.subarray(48000)] as const;
    expect(level(halves[0], 330) / level(halves[1], 330)).toBeCloseTo(1, 1);
  });

  it('rings just below the pilot, in both channels alike, dying away from stroke to stroke', () => {
    // Of a stroke, 0.1 + 0.9 e^(−t/0.15 s) over half a second, 0.36 is left on average: 0.045 · 0.36 to a tone of 0.15.
    const ring = level(programme.left, 18989);
    expect(ring / level(programme.left, 330)).toBeCloseTo((0.045 * 0.36) / 0.15, 2);
    expect(level(programme.right, 18989) / ring).toBeCloseTo(1, 1);
    expect(level(builtInProgramme(2, rateHz, 7, hz(18000)).left, 17989) / ring).toBeCloseTo(1, 1);
  });

  const programmes = new Map<number, Stereo>();
  const programmeAt = (rate: number): Stereo => {
    const made = programmes.get(rate) ?? builtInProgramme(4.5, hz(rate), 1, pilotHz);
    programmes.set(rate, made);
    return made;
  };

  // At the line-up that is taken where none is stated.
  it.each(
    [44100, 48000, 96000, 192000].flatMap((rate) => [50, 75].map((microseconds) => ({ rate, microseconds }))),
  )('stays within the deviation of a link, pilot and all: $rate Hz, $microseconds µs', (row) => {
    const { samples } = encode(programmeAt(row.rate), {
      pilotHz,
      preEmphasisMicroseconds: row.microseconds,
      lineUpDbfs: db(0),
    });
    expect(highestSample(samples, samples)).toBeLessThanOrEqual(1);
    // And fills a good part of it: this is what a bright mix that is lined up well looks like.
    expect(highestSample(samples, samples)).toBeGreaterThan(0.6);
  });

  it.each([0, -1, 1.5, 2 ** 32, Number.NaN])('refuses %d as a seed', (seed) => {
    expect(() => randomFrom(seed)).toThrow(RangeError);
  });

  it.each([0, -1, Number.NaN, Infinity])('refuses to last %d s', (seconds) => {
    expect(() => builtInProgramme(seconds, rateHz, 1, pilotHz)).toThrow(RangeError);
  });
});

describe('listening', () => {
  const programme = builtInProgramme(1.5, rateHz, 1, pilotHz);
  const before = listen(programme, null, options);
  const after = listen(programme, chain, options);

  it('loses the pilot without filters and holds it with them', () => {
    expect(before.lock.kept).toBe(false);
    expect(before.lock.cycleSlips).toBeGreaterThan(0);
    expect(before.stereo.swappedShare).toBeGreaterThan(0.1);
    expect(after.lock.kept).toBe(true);
    expect(after.lock.lockedShare).toBe(1);
    expect(after.lock.peakRadians).toBeLessThan(0.3);
    expect(after.stereo).toEqual({ swappedShare: 0, foldedShare: 0, narrowedShare: 0 });
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
  const lined = { ...options, lineUpDbfs: db(-6) };
  const heard = listen(leftOnly(disturbed), null, lined);
  const level = (samples: Float64Array) => toneAmplitude(samples.subarray(48000), rateHz, hz(1000));

  it('puts left in both channels at half its level while the pilot is lost', () => {
    expect(heard.lock.lockedShare).toBeLessThan(0.2);
    expect(heard.stereo.foldedShare + heard.stereo.swappedShare).toBeGreaterThan(0.8);
    expect(level(heard.audio.left)).toBeCloseTo(0.1, 3);
    expect(level(heard.audio.right)).toBeCloseTo(0.1, 3);
  });

  it('and back in left alone once a filter has helped', () => {
    const mended = listen(leftOnly(disturbed), chain, lined);
    expect(mended.lock.lockedShare).toBe(1);
    expect(20 * Math.log10(level(mended.audio.left) / level(mended.audio.right))).toBeGreaterThan(30);
  });
});

describe('deviation', () => {
  // A sine at the line-up takes 90 %, the pilot 9 %; near 1 kHz, but no divisor of 19 kHz, so that crests meet, and
  // in whole periods, so that it ends without a click.
  it.each([
    { levelDbfs: 0, expected: 0.99 },
    { levelDbfs: -6, expected: 0.9 * 10 ** (-6 / 20) + 0.09 },
    { levelDbfs: 6, expected: 0.9 * 10 ** (6 / 20) + 0.09 },
  ])('of a sine at $levelDbfs dBFS, lined up at 0 dBFS', ({ levelDbfs, expected }) => {
    const { peakDeviation } = listen(mono(sine(995, 0.6, 10 ** (levelDbfs / 20))), null, options);
    expect(Math.abs(peakDeviation / expected - 1)).toBeLessThan(0.01);
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
  const heard = listen(builtInProgramme(0.1, hz(from), 1, pilotHz), null, options);
  expect(heard.audio.sampleRateHz).toBe(to);
  expect(heard.audio.left).toHaveLength(to / 10);
});
