import { describe, expect, it } from 'vitest';
import { fixedGrid } from '../../src/quantisers/grid.js';
import type { Quantiser, QuantiserSpec } from '../../src/quantisers/quantiser.js';
import { makeQuantiser } from '../../src/quantisers/registry.js';
import { step } from '../../src/units/quantity.js';

const gridOf = (spec: QuantiserSpec): Quantiser => {
  const made = makeQuantiser(spec);
  if (!made.ok) throw new Error(made.error);
  return made.value;
};

const valuesOf = (grid: Quantiser): readonly number[] =>
  Array.from({ length: grid.count }, (_, index) => grid.valueAt(step(index)));

describe('what a descriptor says and the grid it gives', () => {
  it.each<readonly [string, QuantiserSpec, readonly number[]]>([
    ['tenths', { kind: 'linear', from: 0, to: 0.7, step: 0.1 }, [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7]],
    ['across zero', { kind: 'linear', from: -0.3, to: 0.3, step: 0.1 }, [-0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3]],
    ['from minus zero', { kind: 'linear', from: -0, to: 2, step: 1 }, [0, 1, 2]],
    ['millionths', { kind: 'linear', from: 1e-7, to: 3e-7, step: 1e-7 }, [1e-7, 2e-7, 3e-7]],
    ['millions', { kind: 'linear', from: 1e6, to: 3e6, step: 1e6 }, [1e6, 2e6, 3e6]],
    [
      'runs',
      {
        kind: 'piecewise-linear',
        from: 99.8,
        segments: [
          { to: 100, step: 0.1 },
          { to: 102, step: 1 },
          { to: 122, step: 10 },
        ],
      },
      [99.8, 99.9, 100, 101, 102, 112, 122],
    ],
    // In doubles 0.3 · (0.9 / 0.3) is 0.8999999999999999.
    ['ends kept as they are', { kind: 'geometric', from: 0.3, to: 0.9, count: 2 }, [0.3, 0.9]],
    // By hand: 20 · 10^(60/20) is 20000; whole octaves and decades keep the digits of what they start from.
    ['octaves', { kind: 'ratio-steps', from: 31.3, to: 200, perOctave: 1 }, [31.3, 62.6, 125.2]],
    // In doubles 1.1 · 100 is 110.00000000000001.
    ['decades', { kind: 'ratio-steps', from: 1.1, to: 1100, perDecade: 1 }, [1.1, 11, 110, 1100]],
    [
      'ten octaves in four steps',
      { kind: 'ratio-steps', from: 20, to: 20480, perOctave: 0.4 },
      [20, 20 * 2 ** 2.5, 640, 640 * 2 ** 2.5, 20480],
    ],
    [
      'not up to an end between steps',
      { kind: 'ratio-steps', from: 100, to: 399.9, perOctave: 1 },
      [100, 200],
    ],
    ['one digit', { kind: 'significant-digits', from: 7, to: 30, digits: 1 }, [7, 8, 9, 10, 20, 30]],
    [
      'two digits',
      { kind: 'significant-digits', from: 0.0961, to: 0.111, digits: 2 },
      [0.097, 0.098, 0.099, 0.1, 0.11],
    ],
    ['a table', { kind: 'table', values: [-6, -0, 2.5] }, [-6, 0, 2.5]],
    ['a table in a text', { kind: 'table', values: '-6 dB; -0\n+2.5' }, [-6, 0, 2.5]],
    ['one value', { kind: 'table', values: [12] }, [12]],
    [
      'the least floats',
      { kind: 'continuous', from: -(2 ** -149), to: 2 ** -148 },
      [-(2 ** -149), 0, 2 ** -149, 2 ** -148],
    ],
    [
      'ends that are no floats',
      { kind: 'continuous', from: 1 + 2 ** -30, to: 1 + 2 ** -22 - 2 ** -30 },
      [1 + 2 ** -23],
    ],
  ])('%s', (_, spec, values) => {
    expect(valuesOf(gridOf(spec))).toEqual(values);
  });

  it('19 320 Hz cannot be typed with three digits, 19 300 can', () => {
    const values = valuesOf(gridOf({ kind: 'significant-digits', from: 19000, to: 20000, digits: 3 }));
    expect(values).toEqual([19000, 19100, 19200, 19300, 19400, 19500, 19600, 19700, 19800, 19900, 20000]);
  });

  it('a fixed value is a grid of one step', () => {
    expect(valuesOf(fixedGrid(31.5))).toEqual([31.5]);
    expect(valuesOf(fixedGrid(-0))).toEqual([0]);
    expect(() => fixedGrid(1).valueAt(step(1))).toThrow(RangeError);
    expect(() => fixedGrid(Number.NaN)).toThrow(RangeError);
  });
});

const refusals: readonly (readonly [QuantiserSpec, string])[] = [
  [
    { kind: 'linear', from: 0, to: 10, step: 3 },
    '"to" is 10, which is no whole number of steps of 3 above 0; the nearest that work are 9 and 12.',
  ],
  [
    { kind: 'linear', from: 0, to: 1, step: 3 },
    '"to" is 1, which is no whole number of steps of 3 above 0; the nearest that works is 3.',
  ],
  [
    { kind: 'linear', from: 0.05, to: 0.3, step: 0.1 },
    '"to" is 0.3, which is no whole number of steps of 0.1 above 0.05; the nearest that work are 0.25 and 0.35.',
  ],
  [{ kind: 'linear', from: 20, to: 10, step: 1 }, '"to" must be above 20, where it starts, but is 10.'],
  [
    { kind: 'linear', from: 20, to: 20, step: 1 },
    '"to" is 20, no higher than where it starts; a knob that does not move is written as a number',
  ],
  [{ kind: 'linear', from: 0, to: 10, step: 0 }, '"step" must be a number above 0, but is 0.'],
  [{ kind: 'linear', from: 0, to: 10, step: -1 }, '"step" must be a number above 0, but is -1.'],
  [{ kind: 'linear', from: Number.NaN, to: 10, step: 1 }, '"from" must be a finite number, but is NaN.'],
  [
    { kind: 'linear', from: 0, to: Number.POSITIVE_INFINITY, step: 1 },
    '"to" must be a finite number, but is Infinity.',
  ],
  [{ kind: 'linear', from: '0', to: 10, step: 1 }, '"from" must be a finite number, but is "0".'],
  [{ kind: 'linear', from: 0, to: 10 }, '"step" is missing; it must be a number above 0.'],
  [
    { kind: 'linear', from: 0, to: 10, stpe: 1 },
    '"stpe" is not a parameter of this kind of grid; did you mean "step"?',
  ],
  [
    { kind: 'linear', from: 0, to: 10, step: 1, unit: 'Hz' },
    '"unit" is not a parameter of this kind of grid; allowed are from, to, step.',
  ],
  [
    { kind: 'linear', from: 0, to: 1e10, step: 1 },
    'the grid has 10000000001 steps; at most 4294967296 are allowed',
  ],
  [
    { kind: 'linear', from: 0, to: 1e6, step: 1e-12 },
    'the grid needs 12 decimal places up to "to", 1000000; that is more digits',
  ],
  [{ kind: 'linear', from: -9e15, to: 9e15, step: 9e15 }, 'more digits than can be kept exact'],
  [{ kind: 'linear', from: 0, to: 5e-324, step: 5e-324 }, 'the grid needs 324 decimal places'],
  [JSON.parse('{"kind":"linear","from":0,"to":1,"step":1,"__proto__":{}}'), '"__proto__" is not a parameter'],
  [
    { kind: 'piecewise-linear', from: 20, segments: [] },
    '"segments" must be a list of 1 to 64 segments, but is [].',
  ],
  [
    { kind: 'piecewise-linear', from: 20, segments: [null] },
    '"segments[0]" must be an object with "to" and "step", but is null.',
  ],
  [
    {
      kind: 'piecewise-linear',
      from: 20,
      segments: [
        { to: 30, step: 1 },
        { to: 25, step: 1 },
      ],
    },
    '"segments[1].to" must be above 30, where it starts, but is 25.',
  ],
  [
    {
      kind: 'piecewise-linear',
      from: 20,
      segments: [
        { to: 30, step: 1 },
        { to: 55, step: 10 },
      ],
    },
    '"segments[1].to" is 55, which is no whole number of steps of 10 above 30; the nearest that work are 50 and 60.',
  ],
  [
    { kind: 'piecewise-linear', from: 20, segments: [{ to: 30, stpe: 1 }] },
    '"segments[0].stpe" is not a parameter of this kind of grid; did you mean "step"?',
  ],
  [
    { kind: 'piecewise-linear', from: 20, segments: [{ to: 30, step: 'x' }] },
    '"segments[0].step" must be a number above 0, but is "x".',
  ],
  [
    { kind: 'geometric', from: 20, to: 20000, count: 1 },
    '"count" must be a whole number from 2 to 1000000, but is 1.',
  ],
  [
    { kind: 'geometric', from: 20, to: 20000, count: 200.5 },
    '"count" must be a whole number from 2 to 1000000, but is 200.5.',
  ],
  [
    { kind: 'geometric', from: 0, to: 20000, count: 9 },
    '"from" must be a number from 0.000001 to 1000000000, but is 0.',
  ],
  [
    { kind: 'geometric', from: 20000, to: 20, count: 9 },
    '"to" must be above 20000, where it starts, but is 20.',
  ],
  [
    { kind: 'geometric', from: 1, to: 1.000001, count: 1_000_000 },
    '"count" is 1000000, too many steps to tell apart from 1 to 1.000001; make it smaller.',
  ],
  [
    { kind: 'ratio-steps', from: 20, to: 20000, perOctave: 3, perDecade: 10 },
    '"perOctave" and "perDecade" both say how far apart the steps lie; take one of them out.',
  ],
  [
    { kind: 'ratio-steps', from: 20, to: 20000 },
    '"perOctave" is missing; it must be a number from 0.1 to 100000 with at most 6 decimals, or "perDecade" in its place.',
  ],
  [
    { kind: 'ratio-steps', from: 20, to: 20000, perDecde: 10 },
    '"perDecde" is not a parameter of this kind of grid; did you mean "perDecade"?',
  ],
  [
    { kind: 'ratio-steps', from: 20, to: 20000, perDecade: 0 },
    '"perDecade" must be a number from 0.1 to 100000 with at most 6 decimals, but is 0.',
  ],
  [
    { kind: 'ratio-steps', from: 20, to: 20000, perOctave: 20 / 3 },
    '"perOctave" must be a number from 0.1 to 100000 with at most 6 decimals, but is 6.66',
  ],
  [
    { kind: 'ratio-steps', from: 20000, to: 20, perOctave: 3 },
    '"to" must be above 20000, where it starts, but is 20.',
  ],
  [
    { kind: 'ratio-steps', from: 100, to: 199, perOctave: 1 },
    '"to" is 199, below the first step above 100, which is 200; raise it, or "perOctave".',
  ],
  [
    { kind: 'octave-fraction', from: 101, to: 102, fraction: 3 },
    'no mid-band frequency of 1/3 octave (IEC 61260-1) lies from 101 to 102; the nearest are 100 and 125.8',
  ],
  [
    { kind: 'octave-fraction', from: 20, to: 200, fraction: 193 },
    '"fraction" must be a whole number from 1 to 192, but is 193.',
  ],
  [
    { kind: 'preferred-numbers', from: 20, to: 200, series: 'R7' },
    '"series" must be one of "R5", "R10", "R20", "R40", "R80", but is "R7".',
  ],
  [
    { kind: 'preferred-numbers', from: 19100, to: 19900, series: 'R40' },
    'no preferred number of R40 (ISO 3) lies from 19100 to 19900; the nearest are 19000 and 20000.',
  ],
  [
    { kind: 'significant-digits', from: 20, to: 200, digits: 8 },
    '"digits" must be a whole number from 1 to 7, but is 8.',
  ],
  [
    { kind: 'significant-digits', from: 1.21, to: 1.29, digits: 2 },
    'no number of 2 significant digits lies from 1.21 to 1.29; the nearest are 1.2 and 1.3.',
  ],
  [
    { kind: 'table', values: [] },
    '"values" must be a list of 1 to 100000 rising numbers, or one text with them, as in "20, 25, 31.5, 1k", but is [].',
  ],
  [{ kind: 'table', values: 6 }, 'as in "20, 25, 31.5, 1k", but is 6.'],
  [{ kind: 'table', values: [6, 12, 12] }, '"values[2]" must be above the value before it, 12, but is 12.'],
  [{ kind: 'table', values: [0, -0] }, '"values[1]" must be above the value before it, 0, but is 0.'],
  [{ kind: 'table', values: '20 25 24 30' }, '"values[2]" must be above the value before it, 25, but is 24.'],
  [
    { kind: 'table', values: '800, 1k, 1k0' },
    '"values[2]" must be above the value before it, 1000, but is 1000 ("1k0" in the text).',
  ],
  [
    { kind: 'table', values: '20 25 3l.5 40' },
    '"values" cannot be read: "3l.5" has "l.5" after the number; a value is a number with its unit or without',
  ],
  [
    { kind: 'table', values: ' ;\n' },
    '"values" cannot be read: there is no value in it; write them one by one',
  ],
  [{ kind: 'table', values: [6, null] }, '"values[1]" must be a finite number, but is null.'],
  [
    { kind: 'continuous', from: 0, to: 1e39 },
    '"to" must be a number within the range of 32-bit floats, but is 1e+39.',
  ],
  [{ kind: 'continuous', from: 3, to: -3 }, '"to" must be above 3, where it starts, but is -3.'],
  [
    { kind: 'continuous', from: 0.1, to: 0.100000001 },
    'no 32-bit float lies from 0.1 to 0.100000001; the nearest are 0.09999999403953552 and 0.10000000149011612.',
  ],
];

describe('what is refused', () => {
  it.each(refusals)('%j', (spec, message) => {
    expect(makeQuantiser(spec)).toMatchObject({ ok: false, error: expect.stringContaining(message) });
  });
});

it('doublings of an octave grid lie within rounding, their ends exactly', () => {
  const values = valuesOf(gridOf({ kind: 'geometric', from: 1, to: 16, count: 5 }));
  expect([values[0], values[4]]).toEqual([1, 16]);
  for (const [index, doubling] of [1, 2, 4, 8, 16].entries()) {
    expect(Math.abs((values[index] ?? 0) / doubling - 1)).toBeLessThan(1e-15 * 4);
  }
});
