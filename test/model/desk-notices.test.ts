import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deskNotices } from '../../src/model/desk-notices.js';
import type { Knob } from '../../src/model/knob.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Problem } from '../../src/model/problem.js';
import type { Display, Target } from '../../src/model/target.js';
import { makeGrid } from '../../src/quantisers/grid.js';
import type { QuantiserKind, QuantiserSpec } from '../../src/quantisers/quantiser.js';
import { quantiserKinds } from '../../src/quantisers/registry.js';
import { itemAt } from '../../src/units/at.js';
import { ok } from '../../src/units/result.js';

const told: Display = {
  frequency: { significantDigits: 9 },
  q: { significantDigits: 9 },
  gain: { decimals: 6 },
};
const fixed: Readonly<Partial<Record<Knob, number>>> = { frequency: 1000, q: 2, gain: -6 };

/** A grid of a module of the user's own: its values. */
const ownKind: QuantiserKind = {
  kind: 'own',
  summary: 'for this test: values',
  create: ({ values }) => {
    const all = values as readonly number[];
    return ok(makeGrid(all.length, (index) => itemAt(all, index)));
  },
};

/** What is noticed of a desk with one bell, one knob of which turns. */
const noticesOf = (spec: QuantiserSpec, knob: Knob = 'frequency', display = told): readonly Problem[] => {
  const target: Target = {
    format: 'bandwright-target/1',
    id: 'one-bell',
    title: 'One bell',
    provenance: 'Invented.',
    outputs: { count: 2, stereo: 'legs-share' },
    quantisers: { grid: spec },
    slots: [{ id: '1', types: { peaking: { frequency: 1000, ...fixed, [knob]: 'grid' } } }],
    realisations: [{ id: 'analogue', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null }],
    display,
    evidence: { grid: 'untested', response: 'untested', push: 'untested' },
  };
  const desk = makeDesk(target, [...quantiserKinds, ownKind]);
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return deskNotices(desk.value);
};

const table = (...values: readonly number[]): QuantiserSpec => ({ kind: 'table', values });

it('steps that look alike are noticed', () => {
  const log: QuantiserSpec = { kind: 'geometric', from: 20, to: 20000, count: 31 };
  expect(noticesOf(log, 'frequency', { frequency: { significantDigits: 1 } })).toMatchObject([
    { code: 'steps-look-alike', path: 'slots[0].types.peaking.frequency' },
  ]);
  expect(noticesOf(log)).toEqual([]);
});

describe('a display that is not told', () => {
  it('is noticed, with what is shown instead', () => {
    const log: QuantiserSpec = { kind: 'geometric', from: 20, to: 20000, count: 31 };
    expect(noticesOf(log, 'frequency', {})).toMatchObject([
      {
        code: 'display-not-told',
        path: 'display',
        message: expect.stringContaining('a recipe shows 632.46 Hz'),
      },
    ]);
  });

  it('is nothing to know where the knob does not turn', () => {
    expect(noticesOf(table(19000), 'frequency', {})).toEqual([]);
  });
});

// ISO 266:1997, and the same with one slip each. How many times: by hand, from the logarithms of the ratios.
const thirds = [25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200];

describe('steps unlike those beside them', () => {
  it.each<[string, readonly number[], string]>([
    [
      'a first value with a digit too few',
      [2, ...thirds],
      'The first step of the frequency, from 2 to 25, is 11 times as large',
    ],
    [
      'a last value with a digit too many',
      [...thirds, 2500],
      'The last step of the frequency, from 200 to 2500, is 1',
    ],
    ['a stop just beyond the grid', [...thirds, 203], 'The last step of the frequency, from 200 to 203, is'],
    [
      'a value beside another',
      [20, 25, 31.5, 32, 50, 63, 80],
      '15 times smaller than the steps beside it: a slip in typing, or a value too many?',
    ],
    [
      'values that are missing',
      [20, 25, 31.5, 80, 100, 125],
      'One step of the frequency, from 31.5 to 80, is 4 times as large',
    ],
  ])('are noticed: %s', (_, values, says) => {
    expect(noticesOf(table(...values))).toMatchObject([
      { code: 'step-unusual', path: 'quantisers.grid', message: expect.stringContaining(says) },
    ]);
  });

  it('are noticed at the ends of runs, and of a grid from a module', () => {
    const runs = {
      kind: 'piecewise-linear',
      from: 20,
      segments: [
        { to: 200, step: 1 },
        { to: 240, step: 40 },
      ],
    };
    expect(noticesOf(runs)).toMatchObject([{ code: 'step-unusual', path: 'quantisers.grid' }]);
    const own = { kind: 'own', values: [...thirds, 900] };
    expect(noticesOf(own)).toMatchObject([{ code: 'step-unusual', path: 'quantisers.grid' }]);
  });

  it('are noticed by difference where the knob is a gain', () => {
    expect(noticesOf(table(-60, -15, -12, -9, -6), 'gain')).toMatchObject([
      { code: 'step-unusual', message: expect.stringContaining('from -60 to -15, is 15 times as large') },
    ]);
  });

  it.each<[string, QuantiserSpec, Knob]>([
    ['nominal third octaves', table(...thirds), 'frequency'],
    ['even hundreds from 10 Hz', table(10, 110, 210, 310, 410), 'frequency'],
    ['two octaves a step', table(20, 80, 320, 1280, 5120), 'frequency'],
    ['few values', table(0.7, 1.4, 9), 'q'],
    ['a gain table with finer steps round 0', table(-15, -12, -9, -6, -4, -2, 0, 2, 4, 6), 'gain'],
    [
      'runs that grow tenfold between',
      {
        kind: 'piecewise-linear',
        from: 10,
        segments: [
          { to: 100, step: 0.1 },
          { to: 1000, step: 1 },
        ],
      },
      'frequency',
    ],
    [
      'a coarse run from near zero',
      { kind: 'piecewise-linear', from: 0.1, segments: [{ to: 40.1, step: 2 }] },
      'q',
    ],
  ])('are none: %s', (_, spec, knob) => {
    expect(noticesOf(spec, knob)).toEqual([]);
  });

  it('are none in any even grid that was read to three digits, by ratio or by difference', () => {
    const even = fc.tuple(fc.integer({ min: 20, max: 200 }), fc.integer({ min: 5, max: 60 }), fc.boolean());
    fc.assert(
      fc.property(even, ([from, wide, byRatio]) => {
        const values = Array.from({ length: 12 }, (_, k) =>
          Number((byRatio ? from * (1 + wide / 100) ** k : from + k * wide).toPrecision(3)),
        );
        expect(noticesOf(table(...values))).toEqual([]);
      }),
    );
  });
});

describe('values just left out', () => {
  it.each<[string, QuantiserSpec, string, string]>([
    // IEC 61260-1:2014, formula 2: 1000 · 10^(-17/10) is 19.953.
    [
      'the third octave called 20 Hz',
      { kind: 'octave-fraction', from: 20, to: 20000, fraction: 3 },
      'from',
      'The next value of this grid, 19.9526, lies just below 20 and is left out. If the desk reaches it, write 19.9526.',
    ],
    // 100 · 2^(19/12) is 299.66.
    [
      'a top stop typed as the desk shows it',
      { kind: 'ratio-steps', from: 100, to: 299, perOctave: 12 },
      'to',
      'The next value of this grid, 299.661, lies just above 299 and is left out. If the desk reaches it, write 299.66',
    ],
    ['a preferred number', { kind: 'preferred-numbers', from: 20, to: 19900, series: 'R10' }, 'to', '20000'],
  ])('are noticed: %s', (_, spec, end, says) => {
    expect(noticesOf(spec)).toMatchObject([
      { code: 'value-just-left-out', path: `quantisers.grid.${end}`, message: expect.stringContaining(says) },
    ]);
  });

  it('are taken in by what the notice says to write', () => {
    const cases = fc.tuple(fc.integer({ min: 20, max: 200 }), fc.integer({ min: 3, max: 40 }));
    fc.assert(
      fc.property(cases, ([from, perOctave]) => {
        const spec = { kind: 'ratio-steps', from, perOctave };
        // By hand: the value 20 steps up, less a twentieth of a step.
        const short = { ...spec, to: from * 2 ** ((20 - 0.05) / perOctave) };
        const [notice] = noticesOf(short);
        const written = Number(/write ([\d.]+)\.$/.exec(notice?.message ?? '')?.[1]);
        expect(written).toBeGreaterThanOrEqual(from * 2 ** (20 / perOctave) * (1 - 1e-12));
        expect(noticesOf({ ...spec, to: written })).toEqual([]);
      }),
      { numRuns: 30 },
    );
  });

  it.each<QuantiserSpec>([
    { kind: 'octave-fraction', from: 19.9, to: 20000, fraction: 3 },
    { kind: 'ratio-steps', from: 100, to: 300, perOctave: 12 },
    { kind: 'ratio-steps', from: 20, to: 20000, perDecade: 20 },
    { kind: 'preferred-numbers', from: 20, to: 20000, series: 'R40' },
    { kind: 'significant-digits', from: 20, to: 20000, digits: 2 },
    { kind: 'linear', from: 20, to: 2000, step: 1 },
    { kind: 'geometric', from: 20, to: 20000, count: 100 },
    { kind: 'continuous', from: 20, to: 20.0001 },
  ])('are none: %j', (spec) => {
    expect(noticesOf(spec)).toEqual([]);
  });
});
