import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { DesignName } from '../../src/filters/realisation.js';
import { groupDelaySeconds } from '../../src/filters/response.js';
import { build, dbAt } from '../filters/measure.js';

/**
 * Against SciPy, an independent library: see make-scipy-table.py, which made the table, for the routes it
 * took, and the table's first line for the versions.
 */
interface Row {
  readonly part: 'header' | 'cut' | 'section' | 'delay' | 'paper' | 'iirnotch';
  readonly type: string;
  readonly sampleRateHz: number | null;
  readonly [other: string]: unknown;
}

const rows = readFileSync(new URL('./scipy-table.jsonl', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .map((line) => JSON.parse(line) as Row);

const [header] = rows;
const of = (part: Row['part']): readonly Row[] => rows.filter((row) => row.part === part);

/** What the row says of the filter, without what it says of the answer. */
const filterOf = ({
  part: _,
  sampleRateHz: __,
  db: ___,
  atHz: ____,
  seconds,
  design,
  coefficients,
  ...filter
}: Row) => filter;

const name = (row: Row): string => `${JSON.stringify(filterOf(row))} at ${row.sampleRateHz ?? 'no'} Hz`;

/** The greatest difference from a row in dB; where SciPy lies below −180 dB so must we, to 20 dB. */
const worstErrorDb = (row: Row): number => {
  const frequenciesHz = (row.sampleRateHz === null ? header?.analogueHz : header?.hz) as readonly number[];
  const sections = build(
    filterOf(row),
    row.sampleRateHz === null ? 'analogue' : 'cookbook',
    row.sampleRateHz,
  );
  const expected = row.db as readonly (number | null)[];
  expect(expected).toHaveLength(frequenciesHz.length);
  return Math.max(
    ...frequenciesHz.map((frequencyHz, i) => {
      const found = dbAt(sections, frequencyHz);
      const wanted = expected[i] as number | null;
      return wanted === null ? Math.max(0, found + 160) : Math.abs(found - wanted);
    }),
  );
};

describe('responses worked out by SciPy', () => {
  it.each(of('cut').map((row) => [name(row), row] as const))('cut %s', (_, row) => {
    expect(worstErrorDb(row)).toBeLessThan(1e-6);
  });

  it.each(of('section').map((row) => [name(row), row] as const))('section %s', (_, row) => {
    expect(worstErrorDb(row)).toBeLessThan(1e-6);
  });

  it.each(of('delay').map((row) => [name(row), row] as const))('group delay of %s', (_, row) => {
    const frequenciesHz = Float64Array.from(row.atHz as readonly number[]);
    const out = new Float64Array(frequenciesHz.length);
    groupDelaySeconds(build(filterOf(row), 'cookbook', row.sampleRateHz), frequenciesHz, out);
    (row.seconds as readonly number[]).forEach((seconds, i) => {
      expect(Math.abs((out[i] as number) - seconds)).toBeLessThan(1e-12);
    });
  });
});

/**
 * Orfanidis 1997 as in the author's own published function; Vicanek 2016 as two independent implementations
 * restate it (the paper itself was not at hand).
 */
describe('the equations of the papers, worked out in 50 digits', () => {
  it.each(of('paper').map((row) => [`${row.design} ${name(row)}`, row] as const))('%s', (_, row) => {
    const [section] = build(filterOf(row), row.design as DesignName, row.sampleRateHz);
    const found = [section?.b0, section?.b1, section?.b2, section?.a1, section?.a2];
    // Near DC bells come from the difference of nearly equal numbers: 5e-12 is still below 1e-5 dB at 40 Hz.
    const bound = (row.frequencyHz as number) < 10000 ? 5e-12 : 2e-14;
    (row.coefficients as readonly number[]).forEach((coefficient, i) => {
      expect(Math.abs((found[i] as number) - coefficient)).toBeLessThan(bound);
    });
  });
});

describe('scipy.signal.iirnotch', () => {
  const [notch] = of('iirnotch');
  const published = { b: [0.99686824, -1.9584219, 0.99686824], a: [1, -1.9584219, 0.99373647] };

  /** A notch from the cookbook's form with another alpha. */
  const notchOf = (w0: number, alpha: number) => ({
    b: [1 / (1 + alpha), (-2 * Math.cos(w0)) / (1 + alpha), 1 / (1 + alpha)],
    a: [1, (-2 * Math.cos(w0)) / (1 + alpha), (1 - alpha) / (1 + alpha)],
  });
  const farthest = (one: readonly number[], other: readonly number[]) =>
    Math.max(...one.map((value, i) => Math.abs(value - (other[i] as number))));

  /** ω0 in SciPy is a fraction of half the sample rate; Q 30. */
  const w0 = 0.06 * Math.PI;

  it('is the published vector (SciPy 1.17.1, test_filter_design.py, TestIIRNotch: "Matlab ones")', () => {
    expect(farthest(notch?.b as readonly number[], published.b)).toBeLessThan(5e-8);
    expect(farthest(notch?.a as readonly number[], published.a)).toBeLessThan(5e-8);
  });

  it('holds the −3 dB width exactly, alpha = tan(ω0 / 2Q), where the cookbook has sin(ω0) / 2Q', () => {
    const exact = notchOf(w0, Math.tan(w0 / 60));
    expect(farthest(exact.b, published.b)).toBeLessThan(5e-8);
    expect(farthest(exact.a, published.a)).toBeLessThan(5e-8);

    const [cookbook] = build({ type: 'notch', frequencyHz: 0.06 * 24000, q: 30 }, 'cookbook', 48000);
    const printed = notchOf(w0, Math.sin(w0) / 60);
    expect(cookbook?.b0).toBeCloseTo(printed.b[0] as number, 13);
    expect(cookbook?.b1).toBeCloseTo(printed.b[1] as number, 13);
    expect(cookbook?.a2).toBeCloseTo(printed.a[2] as number, 13);
    // Both are notches of Q 30 at the same frequency, and yet not the same filter.
    const apart = (cookbook?.b0 as number) - (published.b[0] as number);
    expect(apart).toBeGreaterThan(1.5e-5);
    expect(apart).toBeLessThan(2.1e-5);
  });
});
