import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import { designFor, designs } from '../../src/filters/designs/registry.js';
import { type Filter, filterTypes, gainTypes, widthFormsByType } from '../../src/filters/filter.js';
import { designNames } from '../../src/filters/realisation.js';
import { build, realisation } from './measure.js';

/** A filter of each type in each form it may tell its width in. */
const everyForm = filterTypes.flatMap((type) =>
  widthFormsByType[type].map((form) => ({
    type,
    frequencyHz: 15000,
    [form]: form === 'slopeDbPerOctave' ? 18 : 0.7,
    ...(gainTypes.includes(type) ? { gainDb: -6 } : {}),
  })),
);

describe('building filters', () => {
  it.each(designNames)('%s builds every type in every form of its width', (design) => {
    expect(everyForm).toHaveLength(15);
    for (const filter of everyForm) {
      const sections = build(filter, design, 48000);
      expect(sections.length).toBe('slopeDbPerOctave' in filter ? 2 : 1);
      for (const section of sections) {
        expect(section.domain).toBe(design === 'analogue' ? 's' : 'z');
        expect(section.rateHz).toBe(design === 'analogue' ? 15000 : 48000);
        if (section.domain === 'z') {
          expect(section.a0).toBe(1);
          // The triangle of stability: both poles within the unit circle.
          expect(Math.abs(section.a2)).toBeLessThan(1);
          expect(Math.abs(section.a1)).toBeLessThan(1 + section.a2);
        }
      }
    }
  });

  it('builds a chain as its filters one after another', () => {
    const filters = everyForm as unknown as Filter[];
    const chain = buildChain(filters, realisation('cookbook', 48000));
    expect(chain).toEqual(filters.flatMap((filter) => build(filter, 'cookbook', 48000)));
    expect(chain).toHaveLength(17);
  });

  it('takes a slope for Butterworth unless told', () => {
    const cut = { type: 'lowpass', frequencyHz: 15000, slopeDbPerOctave: 24 };
    expect(build(cut, 'cookbook', 48000)).toEqual(
      build({ ...cut, family: 'butterworth' }, 'cookbook', 48000),
    );
    expect(build(cut, 'cookbook', 48000)).not.toEqual(
      build({ ...cut, family: 'linkwitz-riley' }, 'cookbook', 48000),
    );
  });

  it.each([
    ['its frequency is half the sample rate', { type: 'notch', frequencyHz: 24000, q: 1 }, '24000'],
    ['its frequency is above', { type: 'notch', frequencyHz: 30000, q: 1 }, '30000'],
    ['its frequency is 0', { type: 'notch', frequencyHz: 0, q: 1 }, 'frequencyHz'],
    ['its frequency is no number', { type: 'notch', frequencyHz: Number.NaN, q: 1 }, 'frequencyHz'],
    ['it tells no width', { type: 'notch', frequencyHz: 1000 }, 'q, bandwidthOctaves'],
    ['it tells two widths', { type: 'notch', frequencyHz: 1000, q: 1, bandwidthOctaves: 1 }, 'and'],
    [
      'its width is of another type',
      { type: 'peaking', frequencyHz: 1000, slopeDbPerOctave: 12, gainDb: 1 },
      'slope',
    ],
    ['its Q is 0', { type: 'notch', frequencyHz: 1000, q: 0 }, 'q must be'],
    ['its Q is endless', { type: 'notch', frequencyHz: 1000, q: Infinity }, 'q must be'],
    [
      'its shelf slope is negative',
      { type: 'lowshelf', frequencyHz: 1000, shelfSlope: -1, gainDb: 3 },
      'shelfSlope',
    ],
    ['a bell tells no gain', { type: 'peaking', frequencyHz: 1000, q: 1 }, 'gainDb'],
    ['a notch tells a gain', { type: 'notch', frequencyHz: 1000, q: 1, gainDb: -6 }, 'no gain'],
    ['its gain is endless', { type: 'peaking', frequencyHz: 1000, q: 1, gainDb: Infinity }, 'overflow'],
    ['no such slope exists', { type: 'lowpass', frequencyHz: 1000, slopeDbPerOctave: 7 }, 'dB per octave'],
  ])('throws RangeError where %s', (_, filter, words) => {
    expect(() => build(filter, 'cookbook', 48000)).toThrow(RangeError);
    expect(() => build(filter, 'cookbook', 48000)).toThrow(words);
  });

  it('an analogue prototype may lie anywhere; a digital design needs a sample rate', () => {
    const filter = { type: 'notch', frequencyHz: 30000, q: 1 };
    expect(build(filter, 'analogue', 48000)).toHaveLength(1);
    expect(() => build(filter, 'cookbook', null)).toThrow('needs a sample rate');
  });
});

describe('what a design covers', () => {
  it.each(designNames)('%s is registered under its own name', (name) => {
    expect(designs[name].name).toBe(name);
  });

  it.each([
    ['cookbook', filterTypes],
    ['analogue', filterTypes],
    ['matched', ['lowpass', 'highpass', 'bandpass', 'notch', 'peaking']],
    ['nyquist-gain', ['bandpass', 'notch', 'peaking']],
  ] as const)('%s covers %s; the cookbook makes the rest', (name, covers) => {
    expect([...designs[name].covers].sort()).toEqual([...covers].sort());
    for (const type of filterTypes) {
      const made = designFor(name, type);
      expect(made.name).toBe((covers as readonly string[]).includes(type) ? name : 'cookbook');
    }
  });

  it.each(['matched', 'nyquist-gain'] as const)(
    '%s builds what it does not cover exactly as the cookbook',
    (name) => {
      let same = 0;
      for (const filter of everyForm) {
        if (designs[name].covers.includes(filter.type)) continue;
        expect(build(filter, name, 48000)).toEqual(build(filter, 'cookbook', 48000));
        same += 1;
      }
      expect(same).toBeGreaterThan(4);
    },
  );

  it.each([
    ['matched', 'lowshelf'],
    ['nyquist-gain', 'lowpass'],
  ] as const)('%s itself refuses a %s', (name, type) => {
    const plan = { order: 2, type, frequencyHz: 1000, q: 1, gainDb: 0 };
    expect(() => designs[name].section(plan as never, 48000 as never)).toThrow(RangeError);
  });

  it.each(designNames)('%s: a bell of 0 dB is exactly flat', (name) => {
    for (const frequencyHz of [20, 1000, 19000, 23999]) {
      for (const q of [0.1, 1, 30]) {
        const [section] = build({ type: 'peaking', frequencyHz, q, gainDb: 0 }, name, 48000);
        expect(section?.b0).toBe(section?.a0);
        expect(section?.b1).toBe(section?.a1);
        expect(section?.b2).toBe(section?.a2);
      }
    }
  });
});
