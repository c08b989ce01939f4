import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../src/simulator/built-in-programme.js';
import { measureLock } from '../../src/simulator/measure.js';
import { trackPilot } from '../../src/simulator/track-pilot.js';
import { hz } from '../../src/units/quantity.js';
import { plus, sine } from './signals.js';

const rate = 192000;
const pilotHz = hz(19000);
const pilot = (seconds: number, phase = 0) => sine(19000, seconds, 0.09, phase, rate);
const track = (samples: Float64Array, loopNoiseBandwidthHz: number) =>
  trackPilot({ samples, sampleRateHz: hz(rate) }, pilotHz, {
    loopNoiseBandwidthHz: hz(loopNoiseBandwidthHz),
  });

/** Gardner, Phaselock Techniques (from memory): |H(f)| of a second-order loop with an integrator, damping 1/√2. */
const loopGain = (offsetHz: number, noiseBandwidthHz: number): number => {
  const natural = noiseBandwidthHz / 0.53033;
  const x = (2 * Math.PI * offsetHz) / natural;
  return Math.sqrt((1 + 2 * x * x) / ((1 - x * x) ** 2 + 2 * x * x));
};

describe('pilot loop', () => {
  it.each([10, 30, 100, 300])('of %d Hz finds the pilot, shows so and stays', (bandwidth) => {
    const found = measureLock(track(pilot(1.5), bandwidth), 1);
    expect(found.kept).toBe(true);
    expect(found.lockedShare).toBe(1);
    expect(found.peakRadians).toBeLessThan(0.005);
  });

  it('follows a pilot that stands wrong', () => {
    expect(measureLock(track(pilot(1, 0.2), 30), 0.6).meanRadians).toBeCloseTo(0.2, 3);
  });

  it('shows nothing where there is no pilot, or a weak one', () => {
    expect(measureLock(track(new Float64Array(rate), 30), 0.5).lockedShare).toBe(0);
    expect(
      measureLock(
        track(
          pilot(1).map((x) => 0.3 * x),
          30,
        ),
        0.5,
      ).lockedShare,
    ).toBe(0);
  });

  // A weak interferer of ratio r at an offset: r · |H(offset)|, less what the band-pass of ±500 Hz takes.
  it.each([
    { bandwidth: 30, offsetHz: 1 },
    { bandwidth: 30, offsetHz: 20 },
    { bandwidth: 30, offsetHz: 100 },
    { bandwidth: 100, offsetHz: 5 },
    { bandwidth: 100, offsetHz: 50 },
    { bandwidth: 100, offsetHz: 200 },
  ])('of $bandwidth Hz lets an interferer $offsetHz Hz away turn it as far as theory has it', (row) => {
    const interferer = sine(19000 + row.offsetHz, 2, 0.09 * 0.03, 0, rate);
    const { rmsRadians } = measureLock(track(plus(pilot(2), interferer), row.bandwidth), 1);
    const expected = 0.03 * loopGain(row.offsetHz, row.bandwidth) * (1 / Math.hypot(1, row.offsetHz / 500));
    expect(Math.abs((rmsRadians * Math.SQRT2) / expected - 1)).toBeLessThan(0.01);
  });

  it('has the noise bandwidth it is told: σ² = N0 B / P for white noise of density N0', () => {
    const random = randomFrom(11);
    const seconds = 5;
    // Uniform within ±a has a mean square of a²/3, spread evenly up to half the sample rate.
    const a = 0.05;
    const noise = Float64Array.from({ length: seconds * rate }, () => a * (2 * random() - 1));
    const density = (a * a) / 3 / (rate / 2);
    const { rmsRadians } = measureLock(track(plus(pilot(seconds), noise), 60), 1);
    const expected = Math.sqrt((density * 60) / (0.09 ** 2 / 2));
    // Some 2 · 60 · 4 independent values: 3 % of spread.
    expect(Math.abs(rmsRadians / expected - 1)).toBeLessThan(0.1);
  });

  it('goes round with an interferer that is stronger than the pilot, and tells of slipped cycles', () => {
    const found = measureLock(track(plus(pilot(2), sine(19005, 2, 0.18, 0, rate)), 30), 1);
    expect(found.kept).toBe(false);
    // 5 Hz for one second.
    expect(found.cycleSlips).toBe(5);
    // It can't know better: to it the interferer is the pilot.
    expect(found.lockedShare).toBe(1);
  });

  it('comes back when the interferer goes', () => {
    const interferer = sine(19020, 3, 0.9, 0, rate).fill(0, rate);
    const samples = plus(pilot(3), interferer);
    const all = track(samples, 30);
    expect(measureLock(all, 0.3).kept).toBe(false);
    const after = measureLock(all, 2);
    expect(after.kept).toBe(true);
    expect(after.peakRadians).toBeLessThan(0.01);
  });

  it('has nothing to tell of what is not there', () => {
    expect(() => measureLock(track(pilot(0.1), 30), 0.1)).toThrow(RangeError);
  });
});
