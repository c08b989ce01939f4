/** Grids of every kind to hold laws against, and the values that decimal ones must hold to the last bit. */
import fc from 'fast-check';
import type { QuantiserSpec } from '../../src/quantisers/quantiser.js';

/** The double that a decimal literal stands for: what a decimal grid must hold. */
const literal = (integer: number, places: number): number => Number(`${integer}e-${places}`);

const places = fc.integer({ min: 0, max: 4 });
const start = fc.integer({ min: -30_000, max: 30_000 });
const stepSize = fc.integer({ min: 1, max: 500 });
const fewSteps = fc.integer({ min: 1, max: 150 });
const placed = fc.tuple(
  fc.double({ min: 0.1, max: 90, noNaN: true }),
  fc.double({ min: 100, max: 30_000, noNaN: true }),
);
const float = fc.float({ noNaN: true, noDefaultInfinity: true, min: -1000, max: 1000 });

/** A spec and, where the grid is one of decimals, the value each step must hold to the last bit. */
interface Case {
  readonly spec: QuantiserSpec;
  readonly exactly?: (index: number, value: number) => number;
}

const linear = fc.tuple(start, stepSize, fewSteps, places).map(
  ([first, by, count, digits]): Case => ({
    spec: {
      kind: 'linear',
      from: literal(first, digits),
      to: literal(first + by * count, digits),
      step: literal(by, digits),
    },
    exactly: (index) => literal(first + by * index, digits),
  }),
);

const piecewiseLinear = fc
  .tuple(start, fc.array(fc.tuple(stepSize, fewSteps), { minLength: 1, maxLength: 4 }), places)
  .map(([first, runs, digits]): Case => {
    const integers = [first];
    const segments = runs.map(([by, count]) => {
      for (let index = 0; index < count; index++) integers.push((integers.at(-1) ?? first) + by);
      return { to: literal(integers.at(-1) ?? first, digits), step: literal(by, digits) };
    });
    return {
      spec: { kind: 'piecewise-linear', from: literal(first, digits), segments },
      exactly: (index) => literal(integers[index] ?? Number.NaN, digits),
    };
  });

const geometric = fc
  .tuple(
    fc.double({ min: 0.01, max: 100, noNaN: true }),
    fc.double({ min: 1.01, max: 1000, noNaN: true }),
    fc.integer({ min: 2, max: 300 }),
  )
  .map(([from, ratio, count]): Case => ({ spec: { kind: 'geometric', from, to: from * ratio, count } }));

const ratioSteps = fc
  .tuple(
    fc.double({ min: 0.01, max: 100, noNaN: true }),
    fc.double({ min: 2, max: 1000, noNaN: true }),
    // Two decimals; four to the decade are at least one to a doubling.
    fc.integer({ min: 400, max: 6000 }),
    fc.constantFrom('perOctave', 'perDecade'),
  )
  .map(([from, ratio, hundredths, name]): Case => {
    const steps = literal(hundredths, 2);
    return { spec: { kind: 'ratio-steps', from, to: from * ratio, [name]: steps } };
  });

const octaveFraction = fc
  .tuple(placed, fc.integer({ min: 1, max: 48 }))
  .map(([[from, to], fraction]): Case => ({ spec: { kind: 'octave-fraction', from, to: to * 2, fraction } }));

const preferredNumbers = fc.tuple(placed, fc.constantFrom('R5', 'R10', 'R20', 'R40', 'R80')).map(
  ([[from, to], series]): Case => ({
    spec: { kind: 'preferred-numbers', from, to: to * 2, series },
    exactly: (_, value) => Number(value.toPrecision(3)),
  }),
);

const significantDigits = fc.tuple(placed, fc.integer({ min: 1, max: 7 })).map(
  ([[from, to], digits]): Case => ({
    spec: { kind: 'significant-digits', from, to, digits },
    exactly: (_, value) => Number(value.toPrecision(digits)),
  }),
);

/** Not so small that doubles lie too coarsely for a halfway between them. */
const tabled = fc
  .double({ min: -1e6, max: 1e6, noNaN: true })
  .filter((value) => value === 0 || Math.abs(value) > 1e-9);

const table = fc
  .uniqueArray(tabled, {
    minLength: 1,
    maxLength: 60,
    comparator: (a, b) => a === b,
  })
  .map((values): Case => ({ spec: { kind: 'table', values: [...values].sort((a, b) => a - b) } }));

const continuous = fc
  .tuple(float, float)
  .filter(([a, b]) => a !== b)
  .map(([a, b]): Case => ({ spec: { kind: 'continuous', from: Math.min(a, b), to: Math.max(a, b) } }));

/** The 32-bit float with these bits (IEEE 754 binary32), by the platform's own view of memory. */
const floatWithBits = (bits: number): number => {
  const view = new DataView(new ArrayBuffer(4));
  view.setUint32(0, bits);
  return view.getFloat32(0);
};

/** Few neighbouring floats, of ordinary size and across zero, where the order of their bits turns round. */
const fewFloats = fc.oneof(
  fc
    .tuple(fc.integer({ min: 0x00800000, max: 0x7f000000 }), fewSteps, fc.boolean())
    .map(([bits, count, negative]): Case => {
      const [near, far] = [floatWithBits(bits), floatWithBits(bits + count)];
      return { spec: { kind: 'continuous', from: negative ? -far : near, to: negative ? -near : far } };
    }),
  fc.tuple(fewSteps, fewSteps).map(
    ([below, above]): Case => ({
      spec: { kind: 'continuous', from: -floatWithBits(below), to: floatWithBits(above) },
    }),
  ),
);

export const kinds: readonly (readonly [string, fc.Arbitrary<Case>])[] = [
  ['linear', linear],
  ['piecewise-linear', piecewiseLinear],
  ['geometric', geometric],
  ['ratio-steps', ratioSteps],
  ['octave-fraction', octaveFraction],
  ['preferred-numbers', preferredNumbers],
  ['significant-digits', significantDigits],
  ['table', table],
  ['continuous', continuous],
  ['continuous', fewFloats],
];

/** Those whose grids are small enough to search through. */
export const smallKinds = kinds.filter(([, cases]) => cases !== continuous);

export const searchable = 3000;

export const decimalKinds = ['linear', 'piecewise-linear', 'preferred-numbers', 'significant-digits'];
