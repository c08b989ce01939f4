import { OfflineAudioContext } from 'node-web-audio-api';
import { describe, expect, it } from 'vitest';
import { type FilterType, filterTypes } from '../../src/filters/filter.js';
import { magnitudeDb, magnitudeSquared, phaseRadians } from '../../src/filters/response.js';
import { build } from '../filters/measure.js';

/**
 * Against node-web-audio-api 1.0.9, an independent implementation of the W3C Web Audio API, by its
 * `getFrequencyResponse`. There Q is in dB for lowpass and highpass, and shelves ignore it (S = 1).
 */
const audible = Array.from({ length: 121 }, (_, i) => Math.round(20 * 2 ** (i / 12))).filter(
  (f) => f <= 20000,
);
const frequenciesHz = [...new Set([...audible, 40, 1000, 15000, 19000, 20000])].sort((a, b) => a - b);

const hasGain = (type: FilterType) => ['peaking', 'lowshelf', 'highshelf'].includes(type);
const isShelf = (type: FilterType) => type === 'lowshelf' || type === 'highshelf';
const isCut = (type: FilterType) => type === 'lowpass' || type === 'highpass';

/** Values that single precision holds exactly, since the API's parameters and frequencies are floats. */
const cases = filterTypes.flatMap((type) =>
  [44100, 48000, 96000].flatMap((sampleRateHz) =>
    [40, 1000, 15000, 19000].flatMap((frequencyHz) =>
      (isShelf(type) ? [1] : [0.5, 1, 10]).flatMap((q) =>
        (hasGain(type) ? [-15, -3, 6] : [0]).map((gainDb) => ({
          type,
          sampleRateHz,
          frequencyHz,
          q,
          gainDb,
        })),
      ),
    ),
  ),
);

type Case = (typeof cases)[number];

const theirs = ({ type, sampleRateHz, frequencyHz, q, gainDb }: Case, at: readonly number[]) => {
  const node = new OfflineAudioContext(1, 1, sampleRateHz).createBiquadFilter();
  node.type = type;
  node.frequency.value = frequencyHz;
  node.Q.value = q;
  node.gain.value = gainDb;
  const magnitude = new Float32Array(at.length);
  const phase = new Float32Array(at.length);
  node.getFrequencyResponse(Float32Array.from(at), magnitude, phase);
  return { levelsDb: [...magnitude].map((value) => 20 * Math.log10(value)), phase: [...phase] };
};

const ours = ({ type, sampleRateHz, frequencyHz, q, gainDb }: Case, at: readonly number[]) => {
  const width = isShelf(type) ? {} : { q: isCut(type) ? 10 ** (q / 20) : q };
  const filter = { type, frequencyHz, ...width, ...(hasGain(type) ? { gainDb } : {}) };
  const sections = build(filter, 'cookbook', sampleRateHz);
  const levelsDb = new Float64Array(at.length);
  const phase = new Float64Array(at.length);
  magnitudeDb(sections, Float64Array.from(at), levelsDb);
  phaseRadians(sections, Float64Array.from(at), phase);
  return { levelsDb: [...levelsDb], phase: [...phase] };
};

const turnsApart = (one: number, other: number) => Math.abs(Math.sin((one - other) / 2)) / Math.PI;

describe('getFrequencyResponse of node-web-audio-api 1.0.9', () => {
  it.each(filterTypes)('%s: magnitudes within 1e-4 dB, 20 Hz to 20 kHz', (type) => {
    let compared = 0;
    for (const each of cases.filter((one) => one.type === type)) {
      const [expected, found] = [theirs(each, frequenciesHz), ours(each, frequenciesHz)];
      frequenciesHz.forEach((frequencyHz, i) => {
        const [their, our] = [expected.levelsDb[i] as number, found.levelsDb[i] as number];
        compared += 1;
        if (type === 'notch' && frequencyHz === each.frequencyHz) {
          // At its bottom theirs is what single precision leaves: f0 off by 2^-24 of it, at Q 10, is -118 dB.
          expect(their).toBeLessThan(-110);
          expect(our).toBeLessThan(-180);
        } else if (!(Math.abs(their - our) < 1e-4)) {
          expect.fail(`${JSON.stringify(each)} at ${frequencyHz} Hz: ${our} dB, not ${their} dB`);
        }
      });
    }
    expect(compared).toBeGreaterThan(3000);
  });

  it.each(filterTypes)('%s: phase within 1e-5 of a turn', (type) => {
    for (const each of cases.filter((one) => one.type === type)) {
      // A notch's phase jumps half a turn at its own frequency, to either side by rounding.
      const at = frequenciesHz.filter((f) => type !== 'notch' || f !== each.frequencyHz);
      const [expected, found] = [theirs(each, at), ours(each, at)];
      const apart = at.map((_, i) => turnsApart(expected.phase[i] as number, found.phase[i] as number));
      expect(Math.max(...apart)).toBeLessThan(1e-5);
    }
  });

  it('gives NaN below 0 Hz and above half the sample rate, and a number at both ends (W3C Web Audio API)', () => {
    const at = [-1, 0, 24000, 24001];
    const each: Case = { type: 'peaking', sampleRateHz: 48000, frequencyHz: 1000, q: 1, gainDb: 5 };
    const isNumber = [false, true, true, false];
    for (const found of [theirs(each, at), ours(each, at)]) {
      expect(found.levelsDb.map((value) => !Number.isNaN(value))).toEqual(isNumber);
      expect(found.phase.map((value) => !Number.isNaN(value))).toEqual(isNumber);
    }
  });
});

/** f 400 to 4000 Hz by 400; f0 2000 Hz, Q 1 (in dB for cuts), 3 dB, 44.1 kHz. */
const browserValues: readonly (readonly [FilterType, readonly number[]])[] = [
  [
    'lowpass',
    [
      1.0238481, 1.0948061, 1.1977247, 1.2522061, 1.1220185, 0.8600019, 0.6262584, 0.4618718, 0.3505324,
      0.2735865,
    ],
  ],
  [
    'highpass',
    [
      0.0404227, 0.1731781, 0.4274385, 0.7974867, 1.1220185, 1.2458854, 1.243747, 1.2080561, 1.1714075,
      1.1408128,
    ],
  ],
  [
    'bandpass',
    [0.2025769, 0.4271776, 0.6805755, 0.9101989, 1, 0.9370074, 0.8193634, 0.7074797, 0.6153368, 0.5415574],
  ],
  [
    'notch',
    [
      0.9792663, 0.9041677, 0.7326779, 0.4141715, 6.95e-8, 0.3493095, 0.5732746, 0.7067337, 0.7882643,
      0.8406638,
    ],
  ],
  [
    'peaking',
    [
      1.0145272, 1.065745, 1.1736306, 1.33043, 1.4125375, 1.3534939, 1.2603179, 1.1887167, 1.1401563,
      1.1072507,
    ],
  ],
  [
    'lowshelf',
    [
      1.4117633, 1.4004594, 1.3577604, 1.2777901, 1.1885022, 1.1184994, 1.0730591, 1.0456262, 1.0292382,
      1.0192827,
    ],
  ],
  [
    'highshelf',
    [
      1.0005484, 1.0086243, 1.0403436, 1.1054535, 1.1885022, 1.2628862, 1.316365, 1.350901, 1.3724107,
      1.3858151,
    ],
  ],
];

describe("values two browsers agree on, published in an MIT-licensed audio library's test-suite", () => {
  it.each(browserValues)('%s', (type, expected) => {
    const width = isShelf(type) ? {} : { q: isCut(type) ? 10 ** (1 / 20) : 1 };
    const filter = { type, frequencyHz: 2000, ...width, ...(hasGain(type) ? { gainDb: 3 } : {}) };
    const out = new Float64Array(10);
    magnitudeSquared(
      build(filter, 'cookbook', 44100),
      Float64Array.from({ length: 10 }, (_, i) => 400 * (i + 1)),
      out,
    );
    expected.forEach((magnitude, i) => {
      expect(Math.abs(Math.sqrt(out[i] as number) - magnitude)).toBeLessThan(2e-7);
    });
  });
});
