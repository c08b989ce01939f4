import { describe, expect, it } from 'vitest';
import { type Modulation, preEmphasisDb } from '../../src/guard/modulation.js';
import { separationDb } from '../../src/guard/separation.js';
import { decode } from '../../src/simulator/decode.js';
import { encode } from '../../src/simulator/encode.js';
import { measureLock } from '../../src/simulator/measure.js';
import { db, hz } from '../../src/units/quantity.js';
import { alwaysStereo, measureSeparation, toneAmplitude } from './measure-separation.js';
import { leftOnly, plus, rateHz, sine } from './signals.js';

const modulation: Modulation = { pilotHz: hz(19000), preEmphasisMicroseconds: 50, lineUpDbfs: db(0) };
const question = { frequencyHz: hz(1000), fromSeconds: 0.7, windowSeconds: 0.05 };

describe('a clean stereo tone', () => {
  it.each([
    { frequencyHz: 100, microseconds: 50 },
    { frequencyHz: 1000, microseconds: 50 },
    { frequencyHz: 10000, microseconds: 50 },
    { frequencyHz: 15000, microseconds: 75 },
  ])('of $frequencyHz Hz, $microseconds µs, comes back at its level and in its channel', (row) => {
    const told = { ...modulation, preEmphasisMicroseconds: row.microseconds };
    const heard = alwaysStereo(decode(encode(leftOnly(sine(row.frequencyHz, 1, 0.2)), told), told));
    expect(heard.sampleRateHz).toBe(48000);
    const separation = measureSeparation(heard, { ...question, frequencyHz: hz(row.frequencyHz) });
    expect(separation.overallDb).toBeGreaterThan(70);
    expect(separation.worstDb).toBeGreaterThan(50);
    const level = toneAmplitude(heard.left.subarray(33600), rateHz, hz(row.frequencyHz));
    expect(Math.abs(20 * Math.log10(level / 0.2))).toBeLessThan(0.002);
    // And next to nothing else comes out on the other side: no pilot, no beats.
    const other = heard.right.subarray(33600, 46000).reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    expect(20 * Math.log10(other / 0.2)).toBeLessThan(-60);
  });
});

describe('separation on the simulator', () => {
  // A pilot that stands still at a wrong phase: the formula's own case. Below 0.5° what the simulator itself leaks
  // (some 100 dB down) and the loop's own ripple come to matter; no receiver is as good as that.
  it.each([1, 3, 10, 20])('pilot off by %d°', (degrees) => {
    const phase = (degrees * Math.PI) / 180;
    const composite = encode(leftOnly(sine(1000, 1, 0.5)), modulation, { pilotPhaseRadians: phase });
    const { overallDb, worstDb } = measureSeparation(alwaysStereo(decode(composite, modulation)), question);
    expect(Math.abs(overallDb - separationDb(phase))).toBeLessThan(0.5);
    expect(Math.abs(worstDb - separationDb(phase))).toBeLessThan(0.5);
  });

  /**
   * One interferer 1 Hz beside the pilot, so slow that a loop of 100 Hz follows it fully (it reaches 19 Hz on its own):
   * the worst moment is that of asin r. Windows of 50 ms are a twentieth of the beat.
   */
  it.each([
    { ratioDb: -20, expectedDb: 39.9 },
    { ratioDb: -10, expectedDb: 19.1 },
  ])('an interferer at $ratioDb dB of the pilot, 1 Hz away', ({ ratioDb, expectedDb }) => {
    const rise = preEmphasisDb(hz(19001), 50) - preEmphasisDb(hz(1000), 50);
    const peak = (0.09 / 0.9) * 10 ** ((ratioDb - rise) / 20);
    const interferer = sine(19001, 2.2, peak);
    const left = plus(sine(1000, 2.2, 0.5), interferer);
    const composite = encode({ sampleRateHz: rateHz, left, right: interferer }, modulation);
    const received = decode(composite, modulation, { loopNoiseBandwidthHz: hz(100) });
    const { worstDb } = measureSeparation(alwaysStereo(received), { ...question, fromSeconds: 1 });
    expect(Math.abs(worstDb - expectedDb)).toBeLessThan(1);
    const { peakRadians } = measureLock(received.track, 1);
    expect(peakRadians).toBeCloseTo(Math.asin(10 ** (ratioDb / 20)), 2);
  });

  /**
   * A fast one is averaged: of a tone crosses (1 − mean cos 2φ)/2, to first order the mean square of φ, as tan² φ is.
   * So the formula holds for the whole stretch with the RMS error, as long as that is small.
   */
  it('an interferer 20 Hz away, over all: the RMS error', () => {
    const interferer = sine(19020, 2.2, 0.1 * 0.3 * 10 ** (-(15.646 - 0.409) / 20));
    const left = plus(sine(1000, 2.2, 0.5), interferer);
    const composite = encode({ sampleRateHz: rateHz, left, right: interferer }, modulation);
    const received = decode(composite, modulation);
    const { rmsRadians } = measureLock(received.track, 1);
    expect(rmsRadians).toBeGreaterThan(0.08);
    const { overallDb } = measureSeparation(alwaysStereo(received), { ...question, fromSeconds: 1 });
    expect(Math.abs(overallDb - separationDb(rmsRadians))).toBeLessThan(1);
  });

  it('needs room for a window', () => {
    const heard = leftOnly(sine(1000, 0.5, 1));
    expect(() => measureSeparation(heard, { ...question, fromSeconds: 0.48 })).toThrow(RangeError);
  });
});
