import { describe, expect, it } from 'vitest';
import {
  bandwidthOfQ,
  bilinearNarrowing,
  qOfBandwidth,
  qOfDigitalBandwidth,
  qOfShelfSlope,
} from '../../src/filters/widths.js';
import { type Hz, hz, octaves, type Q, q } from '../../src/units/quantity.js';
import { build, dbAt, widthHz } from './measure.js';

/** The inverse of `qOfDigitalBandwidth`, by the same relation of the W3C Audio EQ Cookbook. */
const digitalBandwidthOfQ = (width: Q, frequencyHz: Hz, sampleRateHz: Hz): number =>
  bandwidthOfQ(width) / bilinearNarrowing(frequencyHz, sampleRateHz);

/** The slope S of a shelf of this Q, by the cookbook's 1/Q = √((A + 1/A)(1/S − 1) + 2) with A = 10^(dB/40). */
const shelfSlopeOfQ = (width: Q, gainDb: number): number => {
  const A = 10 ** (gainDb / 40);
  return 1 / ((1 / (width * width) - 2) / (A + 1 / A) + 1);
};

/** The width between two points of a response, in octaves. */
const octavesBetween = ({ lowHz, highHz }: { lowHz: number; highHz: number }) => Math.log2(highHz / lowHz);

const halfPowerDb = 10 * Math.log10(0.5);

describe('bandwidth in octaves and Q', () => {
  it.each([
    // Textbook pairs: a band with edges a factor 2^BW apart has Q = 2^(BW/2) / (2^BW − 1).
    [1, Math.SQRT2],
    [1 / 3, 2 ** (1 / 6) / (2 ** (1 / 3) - 1)],
    [2, 2 / 3],
    [1 / 6, 2 ** (1 / 12) / (2 ** (1 / 6) - 1)],
  ])('%f octaves is Q %f', (bandwidth, expected) => {
    expect(qOfBandwidth(octaves(bandwidth))).toBeCloseTo(expected, 10);
    expect(bandwidthOfQ(q(expected))).toBeCloseTo(bandwidth, 10);
  });

  it.each(['bandpass', 'notch'])('an analogue %s is as wide as told between its −3 dB points', (type) => {
    for (const bandwidthOctaves of [0.1, 1 / 3, 1, 2.5]) {
      const filter = build({ type, frequencyHz: 1000, bandwidthOctaves }, 'analogue', null);
      const width = widthHz((f) => dbAt(filter, f), 1000, halfPowerDb, 1e6);
      expect(octavesBetween(width)).toBeCloseTo(bandwidthOctaves, 8);
    }
  });

  it.each([-15, -3, 6])(
    'an analogue bell of %d dB is as wide as told between the points of half its gain',
    (gainDb) => {
      for (const bandwidthOctaves of [0.1, 1 / 3, 1, 2.5]) {
        const filter = build(
          { type: 'peaking', frequencyHz: 1000, bandwidthOctaves, gainDb },
          'analogue',
          null,
        );
        const width = widthHz((f) => dbAt(filter, f), 1000, gainDb / 2, 1e6);
        expect(octavesBetween(width)).toBeCloseTo(bandwidthOctaves, 8);
      }
    },
  );

  it('on a cookbook design the digital relation makes narrow filters as wide as told, up to 19 kHz', () => {
    for (const frequencyHz of [100, 1000, 10000, 15000, 19000]) {
      const filter = build({ type: 'notch', frequencyHz, bandwidthOctaves: 0.02 }, 'cookbook', 48000);
      const width = widthHz((f) => dbAt(filter, f), frequencyHz, halfPowerDb, 24000);
      expect(octavesBetween(width) / 0.02).toBeGreaterThan(0.99);
      expect(octavesBetween(width) / 0.02).toBeLessThan(1.01);
      // Told by the Q of the same analogue width instead, it would be narrower by ω0 / sin ω0.
      const byQ = build({ type: 'notch', frequencyHz, q: qOfBandwidth(octaves(0.02)) }, 'cookbook', 48000);
      const narrowed = octavesBetween(widthHz((f) => dbAt(byQ, f), frequencyHz, halfPowerDb, 24000));
      const narrowing = bilinearNarrowing(hz(frequencyHz), hz(48000));
      expect((narrowed * narrowing) / 0.02).toBeCloseTo(1, 2);
    }
  });

  it.each([
    // ω0 / sin ω0, worked out once from the definition.
    [15000, 44100, 2.53],
    [19000, 44100, 6.43],
    [15000, 48000, 2.13],
    [19000, 48000, 4.09],
    [19000, 96000, 1.31],
    [19000, 192000, 1.07],
  ])('the bilinear transform narrows %d Hz at %d Hz by %f', (frequencyHz, sampleRateHz, expected) => {
    expect(Math.abs(bilinearNarrowing(hz(frequencyHz), hz(sampleRateHz)) - expected)).toBeLessThan(0.0051);
  });

  it('the digital relation turns back', () => {
    const [f0, fs] = [hz(19000), hz(48000)];
    expect(digitalBandwidthOfQ(qOfDigitalBandwidth(octaves(0.4), f0, fs), f0, fs)).toBeCloseTo(0.4, 12);
  });
});

describe('shelf slope', () => {
  it.each([-15, -6, 3, 12])('at %d dB S = 1 is Q 1/√2, and S and Q turn back', (gainDb) => {
    expect(qOfShelfSlope(1, gainDb)).toBeCloseTo(Math.SQRT1_2, 12);
    for (const slope of [0.2, 0.5, 1, 1.3]) {
      expect(shelfSlopeOfQ(qOfShelfSlope(slope, gainDb), gainDb)).toBeCloseTo(slope, 10);
    }
  });

  it('is proportional to the slope at the shelf midpoint in dB per octave', () => {
    const steepness = (shelfSlope: number) => {
      const shelf = build({ type: 'lowshelf', frequencyHz: 1000, gainDb: -9, shelfSlope }, 'analogue', null);
      return dbAt(shelf, 1001) - dbAt(shelf, 999);
    };
    // W3C Audio EQ Cookbook: "proportional to the slope in dB/octave", all else held.
    expect(steepness(0.5) / steepness(1)).toBeCloseTo(0.5, 4);
    expect(steepness(0.25) / steepness(1)).toBeCloseTo(0.25, 4);
  });

  it('S = 1 is monotonic and more is not', () => {
    const overshootDb = (shelfSlope: number) => {
      const shelf = build({ type: 'highshelf', frequencyHz: 1000, gainDb: -9, shelfSlope }, 'analogue', null);
      return Math.max(...Array.from({ length: 400 }, (_, i) => dbAt(shelf, 10 * 2 ** (i / 40))));
    };
    expect(overshootDb(1)).toBeLessThan(1e-9);
    expect(overshootDb(1.5)).toBeGreaterThan(0.1);
  });

  it('throws RangeError where no shelf is so steep', () => {
    expect(() => qOfShelfSlope(40, 6)).toThrow(RangeError);
  });
});
