import { describe, expect, it } from 'vitest';
import { blended, type Received } from '../../src/simulator/decode.js';
import { lockIndicator } from '../../src/simulator/track-pilot.js';
import { hz } from '../../src/units/quantity.js';
import { alwaysStereo } from './measure-separation.js';

/** Sum 0.5 and difference 0.25 all along; the indicator is on from 0.1 s to 0.2 s. */
const received: Received = {
  sampleRateHz: hz(1000),
  sum: new Float64Array(400).fill(0.5),
  difference: new Float64Array(400).fill(0.25),
  factor: 4,
  track: {
    sampleRateHz: hz(4000),
    phaseErrorRadians: new Float64Array(1600),
    locked: new Uint8Array(1600).fill(1, 400, 800),
  },
};

describe('left and right from sum and difference', () => {
  const { left, right } = blended(received);

  it.each([
    { what: 'mono before lock', at: 50, side: 0 },
    { what: 'half way through the 50 ms of fading in', at: 124, side: 0.125 },
    { what: 'stereo', at: 160, side: 0.25 },
    { what: 'half way through fading out', at: 224, side: 0.125 },
    { what: 'mono again', at: 300, side: 0 },
  ])('$what', ({ at, side }) => {
    expect(left[at]).toBeCloseTo(0.5 + side, 9);
    expect(right[at]).toBeCloseTo(0.5 - side, 9);
  });

  it('is M + S and M − S for a receiver that does not blend', () => {
    expect([...new Set(alwaysStereo(received).left)]).toEqual([0.75]);
    expect([...new Set(alwaysStereo(received).right)]).toEqual([0.25]);
  });
});

describe('lock indicator', () => {
  /** What it shows after two seconds of each level in turn, twenty times its smoothing. */
  const shownAfter = (levels: readonly number[]): boolean => {
    const shown = lockIndicator(hz(1000));
    return levels.flatMap((level) => Array.from({ length: 2000 }, () => shown(level))).at(-1) ?? false;
  };

  it.each([
    { levels: [0], on: false },
    { levels: [1], on: true },
    { levels: [0.6], on: false },
    { levels: [1, 0.6], on: true },
    { levels: [1, 0.4], on: false },
    { levels: [1, 0.4, 0.6], on: false },
    { levels: [0.72], on: true },
  ])('after $levels of the nominal pilot: $on', ({ levels, on }) => {
    expect(shownAfter(levels)).toBe(on);
  });

  it('does not jump: a pilot must be there for more than a tenth of a second', () => {
    const shown = lockIndicator(hz(1000));
    const first = Array.from({ length: 1000 }, () => shown(1)).indexOf(true);
    // 1 − e^(−t/0.1 s) = 0.7 at 120 ms.
    expect(first).toBeGreaterThan(118);
    expect(first).toBeLessThan(122);
  });
});
