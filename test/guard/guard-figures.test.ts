import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import type { Filter } from '../../src/filters/filter.js';
import { guardFigures, guardHolds, worstFigures } from '../../src/guard/guard-figures.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import { db, dbPerOctave, hz, q } from '../../src/units/quantity.js';

const analogue = { id: 'analogue', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null } as const;
const highCut: Filter = { type: 'lowpass', frequencyHz: hz(15000), slopeDbPerOctave: dbPerOctave(12) };
const scope = guardScope(hz(19000), { preEmphasisMicroseconds: 50 });

describe('guard figures of a 12 dB per octave Butterworth high cut at 15 kHz, analogue', () => {
  const figures = guardFigures(buildChain([highCut], analogue), scope, null);

  it.each([
    // 10 log10(1 + (18.9/15)^4): the window's lower end is where it takes least.
    {
      figure: 'pilotAttenuationDb',
      expected: 10 * Math.log10(1 + 1.26 ** 4),
      source: 'Butterworth, by hand: 5.466',
    },
    // 10 log10(1 + (12/15)^4)
    { figure: 'keepLossDb', expected: 10 * Math.log10(1 + 0.8 ** 4), source: 'Butterworth, by hand: 1.491' },
  ] as const)('$figure: $source', ({ figure, expected }) => {
    expect(figures[figure]).toBeCloseTo(expected, 6);
  });

  it('riseDb is the next to nothing it loses at 20 Hz, and no rise', () => {
    expect(figures.riseDb).toBeLessThanOrEqual(0);
    expect(figures.riseDb).toBeGreaterThan(-1e-6);
  });

  it.each([
    {
      microseconds: 50,
      expectedDb: 5.461741626,
      source: 'midpoint rule, two million points, in another language',
    },
    {
      microseconds: 75,
      expectedDb: 5.467431709,
      source: 'midpoint rule, two million points, in another language',
    },
  ])('guardBandDb after $microseconds microseconds: $source', ({ microseconds, expectedDb }) => {
    const told = guardScope(hz(19000), { preEmphasisMicroseconds: microseconds });
    expect(guardFigures(buildChain([highCut], analogue), told, null).guardBandDb).toBeCloseTo(expectedDb, 4);
  });
});

describe('guard scope', () => {
  it.each([
    // 10 log10(1 + (2π·19000·τ)²), ITU-R BS.450 time constants, by hand.
    { microseconds: 50, expectedDb: 15.638 },
    { microseconds: 75, expectedDb: 19.094 },
    { microseconds: undefined, expectedDb: 19.094 },
  ])(
    'wants pre-emphasis undone at the pilot: $microseconds µs, $expectedDb dB',
    ({ microseconds, expectedDb }) => {
      const told = microseconds === undefined ? {} : { preEmphasisMicroseconds: microseconds };
      expect(guardScope(hz(19000), told).pilotAttenuationAtLeastDb).toBeCloseTo(expectedDb, 3);
    },
  );
});

describe('verdict', () => {
  const limits = guardScope(hz(19000), { pilotAttenuationAtLeastDb: db(15), keepLossAtMostDb: db(1) });
  const range = (leastDb: number, mostDb: number) => ({ leastDb: db(leastDb), mostDb: db(mostDb) });
  const good = {
    pilotAttenuationDb: db(15),
    keepLossDb: db(1),
    riseDb: db(0.1),
    guardBandDb: db(10),
    pilotToProgrammeDb: range(-4, 9),
  };

  it.each([
    { name: 'every limit just met', change: {}, holds: true },
    { name: 'too little at the pilot', change: { pilotAttenuationDb: db(14.9) }, holds: false },
    { name: 'too much music lost', change: { keepLossDb: db(1.1) }, holds: false },
    { name: 'a rise', change: { riseDb: db(0.2) }, holds: false },
  ])('$name', ({ change, holds }) => {
    expect(guardHolds({ ...good, ...change }, limits)).toBe(holds);
  });

  it('takes the worst of every figure over the ways of building', () => {
    const other = {
      pilotAttenuationDb: db(20),
      keepLossDb: db(2),
      riseDb: db(-1),
      guardBandDb: db(3),
      pilotToProgrammeDb: range(-3, 8),
    };
    expect(worstFigures([good, other])).toEqual({
      pilotAttenuationDb: 15,
      keepLossDb: 2,
      riseDb: 0.1,
      guardBandDb: 3,
      pilotToProgrammeDb: { leastDb: -4, mostDb: 8 },
    });
  });

  it('takes nothing in the window for better than anything there', () => {
    const silent = { ...good, pilotToProgrammeDb: null };
    expect(worstFigures([silent, good]).pilotToProgrammeDb).toEqual({ leastDb: -4, mostDb: 9 });
    expect(worstFigures([silent, silent]).pilotToProgrammeDb).toBeNull();
  });
});

describe('rise', () => {
  it('sees the hump of a resonant high cut', () => {
    // A second-order low-pass peaks at Q / sqrt(1 − 1/(4Q²)) (handbook formula): 2.0656 or 6.301 dB for Q 2.
    const resonant: Filter = { type: 'lowpass', frequencyHz: hz(5000), q: q(2) };
    const peakDb = 20 * Math.log10(2 / Math.sqrt(1 - 1 / 16));
    expect(guardFigures(buildChain([resonant], analogue), scope, null).riseDb).toBeCloseTo(peakDb, 9);
  });
});
