import { describe, expect, it } from 'vitest';
import type { Quantiser, QuantiserSpec } from '../../src/quantisers/quantiser.js';
import { makeQuantiser } from '../../src/quantisers/registry.js';
import { nearestStep, stepOf, stepsAround } from '../../src/quantisers/snap.js';
import { step } from '../../src/units/quantity.js';

const gridOf = (spec: QuantiserSpec): Quantiser => {
  const made = makeQuantiser(spec);
  if (!made.ok) throw new Error(made.error);
  return made.value;
};

const valuesOf = (grid: Quantiser): readonly number[] =>
  Array.from({ length: grid.count }, (_, index) => grid.valueAt(step(index)));

const nearest = (grid: Quantiser, value: number): number =>
  grid.valueAt(nearestStep(grid, value, { measure: 'ratio', tie: 'up' }));

const preferred = (series: string, from: number, to: number): Quantiser =>
  gridOf({ kind: 'preferred-numbers', from, to, series });

const midBands = (fraction: number, from: number, to: number): readonly number[] =>
  valuesOf(gridOf({ kind: 'octave-fraction', from, to, fraction }));

describe('preferred numbers', () => {
  it('R10 has the nominal third-octave frequencies (ISO 266:1997, table 1)', () => {
    expect(valuesOf(preferred('R10', 20, 20000))).toEqual([
      20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000,
      2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
    ]);
  });

  it('R20 has the half-steps between them (ISO 3:1973)', () => {
    const r20 = valuesOf(preferred('R20', 20, 20000));
    expect(r20.filter((_, index) => index % 2 === 1)).toEqual([
      22.4, 28, 35.5, 45, 56, 71, 90, 112, 140, 180, 224, 280, 355, 450, 560, 710, 900, 1120, 1400, 1800,
      2240, 2800, 3550, 4500, 5600, 7100, 9000, 11200, 14000, 18000,
    ]);
  });

  it.each([
    ['R5', 'ISO 3:1973, from memory', '1 1.6 2.5 4 6.3 10'],
    ['R10', 'ISO 3:1973, from memory', '1 1.25 1.6 2 2.5 3.15 4 5 6.3 8 10'],
    [
      'R20',
      'ISO 3:1973, from memory',
      '1 1.12 1.25 1.4 1.6 1.8 2 2.24 2.5 2.8 3.15 3.55 4 4.5 5 5.6 6.3 7.1 8 9 10',
    ],
    [
      'R40',
      'ISO 3:1973, from memory',
      '1 1.06 1.12 1.18 1.25 1.32 1.4 1.5 1.6 1.7 1.8 1.9 2 2.12 2.24 2.36 2.5 2.65 2.8 3 3.15 3.35 3.55 3.75 ' +
        '4 4.25 4.5 4.75 5 5.3 5.6 6 6.3 6.7 7.1 7.5 8 8.5 9 9.5 10',
    ],
    [
      'R80',
      'ISO 3:1973, from memory; public tables of the Renard series agree',
      '1 1.03 1.06 1.09 1.12 1.15 1.18 1.22 1.25 1.28 1.32 1.36 1.4 1.45 1.5 1.55 1.6 1.65 1.7 1.75 1.8 1.85 1.9 ' +
        '1.95 2 2.06 2.12 2.18 2.24 2.3 2.36 2.43 2.5 2.58 2.65 2.72 2.8 2.9 3 3.07 3.15 3.25 3.35 3.45 3.55 3.65 ' +
        '3.75 3.87 4 4.12 4.25 4.37 4.5 4.62 4.75 4.87 5 5.15 5.3 5.45 5.6 5.8 6 6.15 6.3 6.5 6.7 6.9 7.1 7.3 7.5 ' +
        '7.75 8 8.25 8.5 8.75 9 9.25 9.5 9.75 10',
    ],
  ])('%s (%s)', (series, _source, numbers) => {
    expect(valuesOf(preferred(series, 1, 10))).toEqual(numbers.split(' ').map(Number));
  });

  it.each([5, 10, 20, 40, 80])(
    'R%d keeps within 1.3 %% of the powers it rounds (ISO 3:1973, 10^(i/n))',
    (n) => {
      for (const [i, value] of valuesOf(preferred(`R${n}`, 1, 10)).entries()) {
        expect(Math.abs(value / 10 ** (i / n) - 1)).toBeLessThan(0.013);
      }
    },
  );

  it('15 kHz and 19 kHz are in R40 but in neither R20 nor R10 (ISO 3:1973)', () => {
    for (const frequencyHz of [15000, 19000]) {
      expect(stepOf(preferred('R40', 20, 20000), frequencyHz)).not.toBeNull();
      expect(stepOf(preferred('R20', 20, 20000), frequencyHz)).toBeNull();
      expect(stepOf(preferred('R10', 20, 20000), frequencyHz)).toBeNull();
    }
    expect(nearest(preferred('R10', 20, 20000), 19000)).toBe(20000);
  });
});

describe('IEC 61260-1:2014 exact mid-band frequencies', () => {
  it('third octaves are 1000 · 10^(n/10): the tenth roots of ten, by tables of common logarithms', () => {
    const decade = [
      1, 1.258925412, 1.584893192, 1.995262315, 2.511886432, 3.16227766, 3.981071706, 5.011872336,
      6.309573445, 7.943282347,
    ];
    const expected = [10, 100, 1000, 10000].flatMap((power) => decade.map((root) => root * power));
    const bands = midBands(3, 19.9, 20000);
    expect(bands).toHaveLength(31);
    for (const [index, frequencyHz] of bands.entries()) {
      expect(frequencyHz / (expected[index + 3] ?? 0)).toBeCloseTo(1, 8);
    }
  });

  it('is exact at whole powers of ten, and to the printed digits between (formula 2, b = 3)', () => {
    const bands = midBands(3, 19.9, 20000);
    expect([bands[7], bands[17], bands[27]]).toEqual([100, 1000, 10000]);
    expect(bands[3]).toBeCloseTo(39.811, 3);
    expect(bands[28]).toBeCloseTo(12589.254, 3);
    expect(bands[29]).toBeCloseTo(15848.932, 3);
    expect(bands[30]).toBeCloseTo(19952.623, 3);
  });

  // By hand: G = 10^(3/10), so G^(1/b) steps from 1000 Hz (odd b) or from half a step either side of it (even b).
  it.each([
    ['b = 1, formula 2: 1000 · G^x', 1, [501.187234, 1000, 1995.262315, 3981.071706]],
    [
      'b = 2, formula 3: 1000 · 10^(±0.075), 10^(±0.225)',
      2,
      [595.662144, 841.395142, 1188.502227, 1678.804018],
    ],
    ['b = 6, formula 3: 1000 · 10^(±0.025), 10^(0.075)', 6, [944.060876, 1059.253725, 1188.502227]],
    ['b = 12, formula 3: 1000 · 10^(±0.0125)', 12, [971.627951, 1029.200527]],
    ['b = 24, formula 3: 1000 · 10^(±0.00625)', 24, [985.711901, 1014.495208]],
  ])('%s', (_, fraction, expectedHz) => {
    const [first = 0, last = 0] = [expectedHz[0], expectedHz.at(-1)];
    const bands = midBands(fraction, first - 1, last + 1);
    expect(bands).toHaveLength(expectedHz.length);
    for (const [index, frequencyHz] of bands.entries()) {
      expect(frequencyHz).toBeCloseTo(expectedHz[index] ?? 0, 5);
    }
  });

  it('leaves out a band whose exact middle is outside, whatever its nominal frequency', () => {
    expect(midBands(3, 20, 20000)[0]).toBeCloseTo(25.1189, 4);
    expect(midBands(3, 19.95, 20000)[0]).toBeCloseTo(19.9526, 4);
  });
});

describe('steps counted from a start', () => {
  const stepsFrom = (from: number, to: number, per: object): readonly number[] =>
    valuesOf(gridOf({ kind: 'ratio-steps', from, to, ...per }));

  it('ten to the decade from 1 kHz are the exact third octaves of IEC 61260-1:2014 (base ten: 1000 · 10^(k/10))', () => {
    // Tenth roots of ten, by tables of common logarithms.
    const roots = [
      1, 1.258925412, 1.584893192, 1.995262315, 2.511886432, 3.16227766, 3.981071706, 5.011872336,
      6.309573445, 7.943282347, 10,
    ];
    const values = stepsFrom(1000, 10000, { perDecade: 10 });
    expect(values).toHaveLength(11);
    for (const [k, value] of values.entries()) expect(value / 1000).toBeCloseTo(roots[k] ?? 0, 8);
    expect([values[0], values[10]]).toEqual([1000, 10000]);
  });

  it('twelve to the octave from 220 Hz are the semitones of equal temperament round 440 Hz (ISO 16:1975)', () => {
    const values = stepsFrom(220, 880, { perOctave: 12 });
    expect([values.length, values[0], values[12], values[24]]).toEqual([25, 220, 440, 880]);
    // C4 and E5, as tables of equal temperament print them.
    expect(values[3]).toBeCloseTo(261.6256, 4);
    expect(values[19]).toBeCloseTo(659.2551, 4);
  });

  it.each([
    // By hand: 20 · 10^3 and 20 · 2^1.
    [20, 20000, { perDecade: 20 }, 61],
    [20, 40, { perOctave: 100 }, 101],
    [31.3, 32051.2, { perOctave: 6.6 }, 67],
    [1.1, 1100, { perDecade: 0.5 }, 2],
  ])('from %d to %d by %j end on that very number where it is one of them', (from, to, per, count) => {
    const values = stepsFrom(from, to, per);
    if (count === 2) expect(values).toEqual([1.1, 110]);
    else expect([values.length, values.at(-1)]).toEqual([count, to]);
  });

  it('end on a step that was written out as far as a number goes', () => {
    // 2^(1/3) to 17 digits, by bc.
    const values = stepsFrom(100, 125.99210498948732, { perOctave: 3 });
    expect(values).toEqual([100, 125.99210498948732]);
  });
});

describe('179 logarithmic points from 26 Hz to 21.7 kHz (common practice, no source)', () => {
  const grid = gridOf({ kind: 'geometric', from: 26, to: 21700, count: 179 });

  // Point k is 26 · (21700/26)^(k/178); worked out by that formula in Python 3.11.
  it.each([
    [7, 33.873749],
    [8, 35.178402],
    [174, 18655.562759],
    [175, 19374.084932],
  ])('point %d is %d Hz', (point, frequencyHz) => {
    expect(grid.valueAt(step(point)) / frequencyHz).toBeCloseTo(1, 6);
  });

  it.each([
    [19000, 174, 175, 174],
    [35, 7, 8, 8],
  ])('%d Hz lies between points %d and %d, nearer by ratio to %d', (frequencyHz, below, above, near) => {
    expect(stepsAround(grid, frequencyHz)).toEqual({ below, at: null, above });
    expect(nearestStep(grid, frequencyHz, { measure: 'ratio', tie: 'up' })).toBe(near);
  });

  it('has both its ends exactly', () => {
    expect([grid.valueAt(step(0)), grid.valueAt(step(178))]).toEqual([26, 21700]);
  });
});

describe('32-bit floats (IEEE 754-2019, binary32)', () => {
  const floats = (from: number, to: number): Quantiser => gridOf({ kind: 'continuous', from, to });

  it('are 2^23 to the octave', () => {
    expect(floats(1, 2).count).toBe(2 ** 23 + 1);
    expect(floats(1, 2).valueAt(step(1))).toBe(1 + 2 ** -23);
  });

  it('are 2 · (2^31 − 2^23) − 1 in all, both zeros being one', () => {
    const largest = (2 - 2 ** -23) * 2 ** 127;
    expect(floats(-largest, largest).count).toBe(2 * (2 ** 31 - 2 ** 23) - 1);
    expect(floats(-largest, largest).valueAt(step(2 ** 31 - 2 ** 23 - 1))).toBe(0);
  });

  it('have the bits of 440 at its place above zero: 43dc0000 (OSC 1.0 specification, example message)', () => {
    expect(floats(0, 1000).valueAt(step(0x43dc0000))).toBe(440);
  });
});
