import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import type { Filter } from '../../src/filters/filter.js';
import type { Realisation } from '../../src/filters/realisation.js';
import type { Section } from '../../src/filters/section.js';
import type { Modulation } from '../../src/guard/modulation.js';
import { pilotToProgrammeDb } from '../../src/guard/pilot-to-programme.js';
import { type StereoImage, usualProgramme } from '../../src/guard/programme.js';
import { encode } from '../../src/simulator/encode.js';
import { runChainOnBoth } from '../../src/simulator/run-chain.js';
import type { Stereo } from '../../src/simulator/stereo.js';
import { db, dbPerOctave, hz, q } from '../../src/units/quantity.js';
import { powerInWindow } from './measure-window.js';
import { leftOnly, mono, pinkNoise, rateHz, rightOnly, sine } from './signals.js';

/**
 * Two ways to one figure: the formula, from responses and shares of power, and the time-domain simulator, which knows
 * neither and measures what lies round the pilot in a composite without one.
 */
const pilotHz = hz(19000);
const windowHz = hz(100);

const filters: readonly Filter[] = [
  { type: 'lowpass', frequencyHz: hz(15000), slopeDbPerOctave: dbPerOctave(12) },
  { type: 'peaking', frequencyHz: hz(19000), q: q(5), gainDb: db(-15) },
];
const ways = {
  cookbook: { id: 'cookbook', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: rateHz },
  matched: { id: 'matched', design: 'matched', qMeaning: 'cookbook', sampleRateHz: rateHz },
  analogue: { id: 'analogue', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null },
} as const satisfies Record<string, Realisation>;
const chains: Readonly<Record<'none' | keyof typeof ways, readonly Section[]>> = {
  none: [],
  cookbook: buildChain(filters, ways.cookbook),
  matched: buildChain(filters, ways.matched),
  analogue: buildChain(filters, ways.analogue),
};

const measuredDb = (programme: Stereo, chain: readonly Section[], modulation: Modulation): number => {
  const composite = encode(runChainOnBoth(programme, chain), modulation, { pilotDeviation: 0 });
  return 10 * Math.log10(0.09 ** 2 / 2 / powerInWindow(composite, { pilotHz, windowHz, fromSeconds: 0.1 }));
};

describe('a tone near the pilot', () => {
  it.each([
    {
      levelDbfs: -20,
      frequencyHz: 18950,
      image: 'left-only',
      chain: 'none',
      lineUpDbfs: 0,
      microseconds: 50,
    },
    {
      levelDbfs: -40,
      frequencyHz: 19040,
      image: 'left-only',
      chain: 'none',
      lineUpDbfs: -12,
      microseconds: 75,
    },
    {
      levelDbfs: -6,
      frequencyHz: 19003,
      image: 'right-only',
      chain: 'none',
      lineUpDbfs: -6,
      microseconds: 50,
    },
    {
      levelDbfs: -20,
      frequencyHz: 18950,
      image: 'identical',
      chain: 'none',
      lineUpDbfs: 0,
      microseconds: 75,
    },
    {
      levelDbfs: -60,
      frequencyHz: 19090,
      image: 'identical',
      chain: 'none',
      lineUpDbfs: 0,
      microseconds: 50,
    },
    {
      levelDbfs: -20,
      frequencyHz: 18950,
      image: 'left-only',
      chain: 'cookbook',
      lineUpDbfs: 0,
      microseconds: 50,
    },
    {
      levelDbfs: -10,
      frequencyHz: 19020,
      image: 'identical',
      chain: 'cookbook',
      lineUpDbfs: -6,
      microseconds: 75,
    },
    {
      levelDbfs: -20,
      frequencyHz: 18910,
      image: 'identical',
      chain: 'matched',
      lineUpDbfs: 0,
      microseconds: 50,
    },
    {
      levelDbfs: -20,
      frequencyHz: 18950,
      image: 'left-only',
      chain: 'analogue',
      lineUpDbfs: 0,
      microseconds: 0,
    },
  ] as const)('$frequencyHz Hz at $levelDbfs dBFS, $image, chain: $chain', (row) => {
    const modulation = { pilotHz, preEmphasisMicroseconds: row.microseconds, lineUpDbfs: db(row.lineUpDbfs) };
    const tone = sine(row.frequencyHz, 1.15, 10 ** (row.levelDbfs / 20));
    const programme = { 'left-only': leftOnly, 'right-only': rightOnly, identical: mono }[row.image](tone);
    const expectedDb = pilotToProgrammeDb(chains[row.chain], {
      ...modulation,
      windowHz,
      programme: {
        kind: 'tone',
        frequencyHz: hz(row.frequencyHz),
        levelDbfs: db(row.levelDbfs),
        image: row.image,
      },
    });
    expect(Math.abs(measuredDb(programme, chains[row.chain], modulation) - expectedDb)).toBeLessThan(0.05);
  });

  it('outside the window is not there', () => {
    const modulation = { pilotHz, preEmphasisMicroseconds: 50, lineUpDbfs: db(0) };
    expect(measuredDb(leftOnly(sine(18890, 1.15, 1)), [], modulation)).toBeGreaterThan(50);
  });
});

describe('pink noise', () => {
  const image: Readonly<Record<StereoImage, () => Stereo>> = {
    'left-only': () => leftOnly(pinkNoise(-18, 1)),
    'right-only': () => rightOnly(pinkNoise(-18, 2)),
    identical: () => mono(pinkNoise(-18, 3)),
    independent: () => ({ sampleRateHz: rateHz, left: pinkNoise(-18, 4), right: pinkNoise(-18, 5) }),
  };

  // 200 Hz for 2.6 s are some 500 independent values: 0.2 dB of spread where channels are unrelated, less in mono.
  it.each([
    { name: 'identical', chain: 'none', lineUpDbfs: 0, microseconds: 50 },
    { name: 'identical', chain: 'cookbook', lineUpDbfs: -12, microseconds: 75 },
    { name: 'identical', chain: 'analogue', lineUpDbfs: 0, microseconds: 50 },
    { name: 'left-only', chain: 'none', lineUpDbfs: -6, microseconds: 50 },
    { name: 'independent', chain: 'matched', lineUpDbfs: 0, microseconds: 50 },
  ] as const)(
    '$name, chain: $chain, line-up $lineUpDbfs dBFS',
    ({ name, chain, lineUpDbfs, microseconds }) => {
      const modulation = { pilotHz, preEmphasisMicroseconds: microseconds, lineUpDbfs: db(lineUpDbfs) };
      const expectedDb = pilotToProgrammeDb(chains[chain], {
        ...modulation,
        windowHz,
        programme: { ...usualProgramme, image: name },
      });
      expect(Math.abs(measuredDb(image[name](), chains[chain], modulation) - expectedDb)).toBeLessThan(0.5);
    },
  );
});

it('a window needs a second to be measured', () => {
  const composite = encode(mono(sine(19000, 0.9, 1)), {
    pilotHz,
    preEmphasisMicroseconds: 50,
    lineUpDbfs: db(0),
  });
  expect(() => powerInWindow(composite, { pilotHz, windowHz, fromSeconds: 0 })).toThrow(RangeError);
});
