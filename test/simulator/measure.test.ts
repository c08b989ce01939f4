import { describe, expect, it } from 'vitest';
import { measureLock, measureStereo } from '../../src/simulator/measure.js';
import { trackPilot } from '../../src/simulator/track-pilot.js';
import { hz } from '../../src/units/quantity.js';
import { plus, sine } from './signals.js';

const degrees = Math.PI / 180;

/** What is measured of a phase that goes its way evenly over a second, for a receiver that lets `amount` through. */
const measured = (phaseAt: (share: number) => number, amount = 1) => {
  const length = 40_000;
  const phaseErrorRadians = Float64Array.from({ length }, (_, n) => phaseAt((n + 0.5) / length));
  const track = { sampleRateHz: hz(length), phaseErrorRadians, locked: new Uint8Array(length).fill(1) };
  const amounts = new Float64Array(length).fill(amount);
  return measureStereo({ track, factor: 1, sampleRateHz: hz(length) }, amounts, 0);
};

const whole = { swappedShare: 0, foldedShare: 0, narrowedShare: 0 };

describe('what a listener gets of the stereo', () => {
  // 40 log10 cot φ is 20 dB at 17.548° (cot 3.1623) and 6 dB at 35.300° (cot 1.4125); by hand.
  it.each([
    { phase: 0, figures: whole },
    { phase: 17.5, figures: whole },
    { phase: -17.6, figures: { ...whole, narrowedShare: 1 } },
    { phase: 35.2, figures: { ...whole, narrowedShare: 1 } },
    { phase: 35.4, figures: { ...whole, foldedShare: 1 } },
    { phase: -44.9, figures: { ...whole, foldedShare: 1 } },
    { phase: 45.1, figures: { ...whole, swappedShare: 1 } },
    { phase: 90, figures: { ...whole, swappedShare: 1 } },
    { phase: -134.9, figures: { ...whole, swappedShare: 1 } },
    // Half a turn of the pilot is a whole one of its second harmonic.
    { phase: 180, figures: whole },
    { phase: 3600 + 175, figures: whole },
  ])('$phase° off', ({ phase, figures }) => {
    expect(measured(() => phase * degrees)).toEqual(figures);
  });

  // 20 log10 (1 + g)/(1 − g): 20.8 dB at 0.834, 9.5 dB at 0.5, 5.4 dB at 0.3; by hand.
  it.each([
    { amount: 0.834, figures: whole },
    { amount: 0.5, figures: { ...whole, narrowedShare: 1 } },
    { amount: 0.3, figures: { ...whole, foldedShare: 1 } },
    { amount: 0, figures: { ...whole, foldedShare: 1 } },
  ])('a receiver that lets $amount of the difference through', ({ amount, figures }) => {
    expect(measured(() => 0, amount)).toEqual(figures);
  });

  it('of a phase that goes from 0 to 90° evenly: each stretch its share', () => {
    const { swappedShare, foldedShare, narrowedShare } = measured((share) => 90 * share * degrees);
    expect(swappedShare).toBeCloseTo(1 / 2, 3);
    expect(foldedShare).toBeCloseTo((45 - 35.3) / 90, 3);
    expect(narrowedShare).toBeCloseTo((35.3 - 17.548) / 90, 3);
  });

  it('has nothing to tell of what is not there', () => {
    const track = { sampleRateHz: hz(8), phaseErrorRadians: new Float64Array(8), locked: new Uint8Array(8) };
    const amounts = new Float64Array(8);
    expect(() => measureStereo({ track, factor: 1, sampleRateHz: hz(8) }, amounts, 1)).toThrow(RangeError);
  });
});

/**
 * An interferer of ratio r < 1 beats against the pilot: the sum of 1 and r e^(iθ) is off by more than φ where
 * r sin(θ − φ) > sin φ, and by less than −φ likewise: a share 1 − (2/π) asin(sin φ / r) of the time, for φ < asin r.
 * By hand for 45°, 35.3° and 17.548°.
 */
const beats = [
  { ratio: 0.25, peak: 14.48, swapped: 0, folded: 0, narrowed: 0 },
  { ratio: 0.6, peak: 36.87, swapped: 0, folded: 0.1737, narrowed: 0.4911 },
  { ratio: 0.8, peak: 53.13, swapped: 0.3098, folded: 0.1764, narrowed: 0.2678 },
];

describe('an interferer that beats against the pilot', () => {
  it.each(beats)('of ratio $ratio, followed fully', ({ ratio, swapped, folded, narrowed }) => {
    const figures = measured((share) => {
      const beat = 2 * Math.PI * share;
      return Math.atan2(ratio * Math.sin(beat), 1 + ratio * Math.cos(beat));
    });
    expect(figures.swappedShare).toBeCloseTo(swapped, 3);
    expect(figures.foldedShare).toBeCloseTo(folded, 3);
    expect(figures.narrowedShare).toBeCloseTo(narrowed, 3);
  });

  // Once the interferer is the stronger, the phase goes round, and it is half the time beyond 45° (mod 180°).
  it.each([1.0001, 1.5, 4])('of ratio %d: swapped half the time', (ratio) => {
    const figures = measured((share) => {
      const beat = 2 * Math.PI * share;
      return Math.atan2(ratio * Math.sin(beat), 1 + ratio * Math.cos(beat));
    });
    expect(figures.swappedShare).toBeCloseTo(0.5, 3);
  });

  // 2 Hz away, which a loop of 300 Hz follows all but fully.
  it.each(beats)('of ratio $ratio, on the simulator: $peak° at most', (row) => {
    const rate = 192000;
    const seconds = 2;
    const pilot = sine(19000, seconds, 0.09, 0, rate);
    const samples = plus(pilot, sine(19002, seconds, 0.09 * row.ratio, 0, rate));
    const options = { loopNoiseBandwidthHz: hz(300) };
    const track = trackPilot({ samples, sampleRateHz: hz(rate) }, hz(19000), options);
    expect(Math.abs(measureLock(track, 1).peakRadians / degrees - row.peak)).toBeLessThan(0.3);
    const amounts = new Float64Array((seconds * rate) / 4).fill(1);
    const figures = measureStereo({ track, factor: 4, sampleRateHz: hz(rate / 4) }, amounts, 1);
    expect(Math.abs(figures.swappedShare - row.swapped)).toBeLessThan(0.01);
    expect(Math.abs(figures.foldedShare - row.folded)).toBeLessThan(0.01);
    expect(Math.abs(figures.narrowedShare - row.narrowed)).toBeLessThan(0.01);
  });
});
