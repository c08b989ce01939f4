import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import type { Filter } from '../../src/filters/filter.js';
import { pilotToProgrammeDb } from '../../src/guard/pilot-to-programme.js';
import { type StereoImage, usualProgramme } from '../../src/guard/programme.js';
import { randomFrom } from '../../src/simulator/built-in-programme.js';
import { kaiserLowPass } from '../../src/simulator/resample.js';
import { fourier, runChain } from '../../src/simulator/run-chain.js';
import { naturalFrequency } from '../../src/simulator/track-pilot.js';
import { db, dbPerOctave, hz, q } from '../../src/units/quantity.js';

/**
 * Against SciPy and NumPy, independent libraries: see make-pilot-table.py, which made the table, for the routes it
 * took, and the table's first line for the versions.
 */
type Row = { readonly part: string } & Record<string, unknown>;

const rows = readFileSync(new URL('./pilot-table.jsonl', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .map((line) => JSON.parse(line) as Row);

const of = <Told>(part: string): readonly Told[] =>
  rows.filter((row) => row.part === part) as unknown as Told[];

const farthest = (found: Iterable<number>, expected: readonly number[]): number =>
  Math.max(...[...found].map((value, i) => Math.abs(value - (expected[i] ?? Number.NaN))));

interface Ratio {
  readonly filters: readonly Filter[];
  readonly sampleRateHz: number | null;
  readonly preEmphasisMicroseconds: number;
  readonly lineUpDbfs: number;
  readonly windowHz: number;
  readonly image: StereoImage;
  readonly db: number;
}

describe('pilot over programme', () => {
  it('has many cases', () => {
    expect(of('ratio').length).toBeGreaterThan(50);
  });

  it.each(of<Ratio>('ratio').map((row) => [JSON.stringify(row), row] as const))('%s', (_, row) => {
    const chain = buildChain(row.filters, {
      id: 'told',
      design: row.sampleRateHz === null ? 'analogue' : 'cookbook',
      qMeaning: 'cookbook',
      sampleRateHz: row.sampleRateHz === null ? null : hz(row.sampleRateHz),
    });
    const found = pilotToProgrammeDb(chain, {
      pilotHz: hz(19000),
      windowHz: hz(row.windowHz),
      preEmphasisMicroseconds: row.preEmphasisMicroseconds,
      lineUpDbfs: db(row.lineUpDbfs),
      programme: { ...usualProgramme, image: row.image },
    });
    // Unrelated channels were drawn: four million samples are unrelated to 0.005 dB and no better.
    expect(Math.abs(found - row.db)).toBeLessThan(row.image === 'independent' ? 0.005 : 1e-5);
  });
});

interface Loop {
  readonly noiseBandwidthHz: number;
  readonly naturalFrequency: number;
}

it.each(of<Loop>('loop'))('a loop of $noiseBandwidthHz Hz noise bandwidth, by integration', (row) => {
  expect(naturalFrequency(hz(row.noiseBandwidthHz)) / row.naturalFrequency).toBeCloseTo(1, 5);
});

interface Taps {
  readonly sampleRateHz: number;
  readonly passHz: number;
  readonly stopHz: number;
  readonly stopDb: number;
  readonly least: number;
  readonly middle: readonly number[];
}

it.each(of<Taps>('taps'))('taps of a low-pass from $passHz to $stopHz Hz: scipy.signal.firwin', (row) => {
  const taps = kaiserLowPass(row);
  expect(taps.length % 2).toBe(1);
  expect(taps.length).toBeGreaterThanOrEqual(row.least);
  expect(taps.length).toBeLessThanOrEqual(row.least + 2);
  expect(row.middle).toHaveLength(12);
  const half = (taps.length - 1) / 2;
  expect(farthest(taps.subarray(half, half + 12), row.middle)).toBeLessThan(1e-10);
});

interface Fourier {
  readonly real: readonly number[];
  readonly imaginary: readonly number[];
  readonly toReal: readonly number[];
  readonly toImaginary: readonly number[];
}

it.each(of<Fourier>('fourier'))('the Fourier transform: numpy.fft.fft', (row) => {
  const found = fourier({ real: Float64Array.from(row.real), imaginary: Float64Array.from(row.imaginary) });
  expect(farthest(found.real, row.toReal)).toBeLessThan(1e-14);
  expect(farthest(found.imaginary, row.toImaginary)).toBeLessThan(1e-14);
});

interface Run {
  readonly samples: readonly number[];
  readonly out: readonly number[];
}

it.each(of<Run>('run'))('samples through a high cut and a bell: scipy.signal.lfilter', (row) => {
  const chain = buildChain(
    [
      { type: 'peaking', frequencyHz: hz(19000), q: q(5), gainDb: db(-18) },
      { type: 'lowpass', frequencyHz: hz(15000), slopeDbPerOctave: dbPerOctave(12) },
    ],
    { id: '48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(48000) },
  );
  expect(farthest(runChain(Float64Array.from(row.samples), hz(48000), chain), row.out)).toBeLessThan(1e-13);
});

interface Random {
  readonly seed: number;
  readonly values: readonly number[];
}

it.each(of<Random>('random'))('xorshift of 32 bits from $seed, in whole numbers of any size', (row) => {
  const random = randomFrom(row.seed);
  expect(row.values.map(() => random() * 2 ** 32)).toEqual(row.values);
});
