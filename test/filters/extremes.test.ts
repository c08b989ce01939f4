import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import { exceedsDb, highestDb, lowestDb, sidesOf } from '../../src/filters/extremes.js';
import type { Filter } from '../../src/filters/filter.js';
import type { Realisation } from '../../src/filters/realisation.js';
import { db, dbPerOctave, hz, octaves, q } from '../../src/units/quantity.js';

const analogue: Realisation = {
  id: 'analogue',
  design: 'analogue',
  qMeaning: 'cookbook',
  sampleRateHz: null,
};
const digital = (design: Realisation['design'], rateHz = 48000): Realisation => ({
  id: design,
  design,
  qMeaning: 'cookbook',
  sampleRateHz: hz(rateHz),
});
const all = { fromHz: 20, toHz: 20000 };
const bell = (frequencyHz: number, width: number, gainDb: number): Filter => ({
  type: 'peaking',
  frequencyHz: hz(frequencyHz),
  q: q(width),
  gainDb: db(gainDb),
});

describe('what a chain lets through at the most and at the least', () => {
  it.each([analogue, digital('cookbook'), digital('matched'), digital('nyquist-gain')])(
    'is the gain of a bell at its centre, however narrow, in the design $id',
    (realisation) => {
      // A bell's gain at its own frequency is what its knob says (W3C Audio EQ Cookbook; Orfanidis; Vicanek).
      for (const width of [1, 36.5, 150, 1000]) {
        expect(highestDb(buildChain([bell(7777.7, width, 9)], realisation), all)).toBeCloseTo(9, 6);
        expect(lowestDb(buildChain([bell(7777.7, width, -9)], realisation), all)).toBeCloseTo(-9, 6);
      }
    },
  );

  it('is the hump of a resonant high cut, Q / √(1 − 1/(4Q²)) (handbook formula)', () => {
    const chain = buildChain([{ type: 'lowpass', frequencyHz: hz(5000), q: q(20) }], analogue);
    expect(highestDb(chain, all)).toBeCloseTo(20 * Math.log10(20 / Math.sqrt(1 - 1 / 1600)), 9);
  });

  it('is 3.01 dB down at the end of the band where a Butterworth has its corner', () => {
    const cut: Filter = { type: 'lowpass', frequencyHz: hz(9000), slopeDbPerOctave: dbPerOctave(24) };
    const chain = buildChain([cut], digital('cookbook'));
    expect(lowestDb(chain, { fromHz: 80, toHz: 9000 })).toBeCloseTo(-10 * Math.log10(2), 9);
    expect(highestDb(chain, { fromHz: 9000, toHz: 12000 })).toBeCloseTo(-10 * Math.log10(2), 9);
  });

  it('is the floor of 200 dB where a notch lies inside, and not where it lies outside', () => {
    for (const realisation of [analogue, digital('cookbook'), digital('matched'), digital('nyquist-gain')]) {
      const chain = buildChain([{ type: 'notch', frequencyHz: hz(3000), q: q(8) }], realisation);
      expect(lowestDb(chain, all)).toBe(-200);
      expect(lowestDb(chain, { fromHz: 20, toHz: 2900 })).toBeGreaterThan(-30);
      expect(highestDb(chain, { fromHz: 3000, toHz: 3000 })).toBe(-200);
      expect(highestDb(chain, all)).toBeCloseTo(0, 3);
    }
  });

  it.each([
    { name: 'no filters', filters: [], levelDb: 0 },
    { name: 'a bell and its mirror', filters: [bell(1000, 2, 6), bell(1000, 2, -6)], levelDb: 0 },
    {
      name: 'an all-pass',
      filters: [{ type: 'allpass', frequencyHz: hz(700), q: q(3) } as const],
      levelDb: 0,
    },
    {
      // A low shelf and a high shelf of one frequency and gain lift everything by it (W3C Audio EQ Cookbook).
      name: 'two shelves that are a plain gain together',
      filters: (['lowshelf', 'highshelf'] as const).map((type) => ({
        type,
        frequencyHz: hz(500),
        gainDb: db(-4),
      })),
      levelDb: -4,
    },
  ])('is one level where the curve is flat: $name', ({ filters, levelDb }) => {
    const chain = buildChain(filters, digital('cookbook'));
    expect(highestDb(chain, all)).toBeCloseTo(levelDb, 5);
    expect(lowestDb(chain, all)).toBeCloseTo(levelDb, 5);
  });

  it('is told to exceed a level only where it does', () => {
    const chain = buildChain([bell(7777.7, 150, 9)], digital('cookbook'));
    expect(exceedsDb(chain, all, 8.99)).toBe(true);
    expect(exceedsDb(chain, all, 9.01)).toBe(false);
    expect(exceedsDb(chain, { fromHz: 20, toHz: 7000 }, 0.1)).toBe(false);
  });

  it('is not a number above half the sample rate, and no band is an error of the caller', () => {
    const chain = buildChain([bell(1000, 2, 6)], digital('cookbook', 32000));
    expect(highestDb(chain, all)).toBeNaN();
    expect(lowestDb(chain, all)).toBeNaN();
    expect(() => highestDb(chain, { fromHz: 2000, toHz: 1000 })).toThrow(RangeError);
    const mixed = [...chain, ...buildChain([bell(1000, 2, 6)], analogue)];
    expect(() => highestDb(mixed, { fromHz: 20, toHz: 1000 })).toThrow(RangeError);
  });
});

describe('the stretches of a band above a level', () => {
  it('end where a first-order low cut crosses it', () => {
    // |H|² = x²/(1 + x²) is 1/2 at x = 1 and 1/5 at x = 1/2.
    const cut: Filter = { type: 'highpass', frequencyHz: hz(200), slopeDbPerOctave: dbPerOctave(6) };
    const sides = sidesOf(buildChain([cut], analogue), all, -10 * Math.log10(5));
    expect(sides.map(({ isAbove }) => isAbove)).toEqual([false, true]);
    expect(sides[0]?.band.fromHz).toBe(20);
    expect(sides[0]?.band.toHz).toBeCloseTo(100, 4);
    expect(sides[1]?.band).toEqual({ fromHz: sides[0]?.band.toHz, toHz: 20000 });
  });

  it('are both flanks of a bell, however narrow', () => {
    // So steep that two neighbouring numbers lie on either side.
    const cliff = buildChain(
      [{ type: 'peaking', frequencyHz: hz(1000), bandwidthOctaves: octaves(1e-8), gainDb: db(-6) }],
      digital('cookbook'),
    );
    expect(sidesOf(cliff, all, -3).some(({ isAbove }) => !isAbove)).toBe(true);
    const sides = sidesOf(buildChain([bell(7777.7, 400, -12)], digital('cookbook')), all, -6);
    expect(sides.map(({ isAbove }) => isAbove)).toEqual([true, false, true]);
    // Between the points of half the gain in dB a cookbook bell is f/Q wide.
    const [, cut] = sides;
    expect((cut?.band.toHz ?? 0) - (cut?.band.fromHz ?? 0)).toBeCloseTo(
      // The bilinear transform narrows it by sin ω/ω.
      (7777.7 / 400) * (Math.sin((2 * Math.PI * 7777.7) / 48000) / ((2 * Math.PI * 7777.7) / 48000)),
      2,
    );
  });

  it('is the whole band where it lies on one side, or on the level', () => {
    const chain = buildChain([bell(1000, 2, -6)], analogue);
    expect(sidesOf(chain, all, -7)).toEqual([{ band: all, isAbove: true }]);
    expect(sidesOf(chain, all, 1)).toEqual([{ band: all, isAbove: false }]);
    expect(sidesOf([], all, 0)).toEqual([{ band: all, isAbove: true }]);
  });
});
