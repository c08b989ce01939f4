import { describe, expect, it } from 'vitest';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Target } from '../../src/model/target.js';
import { hz } from '../../src/units/quantity.js';

const target = (changes: Partial<Target> = {}): Target => ({
  format: 'bandwright-target/1',
  id: 'test-desk',
  title: 'A desk for tests',
  provenance: 'invented',
  outputs: { count: 8, stereo: 'legs-share' },
  quantisers: { log: { kind: 'geometric', from: 20, to: 20000, count: 31 } },
  slots: [{ id: '1', types: { peaking: { frequency: 'log', q: 4, gain: -6 } } }],
  realisations: [{ id: 'one', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(48000) }],
  display: {},
  evidence: { grid: 'untested', response: 'untested', push: 'untested' },
  ...changes,
});

describe('making a desk', () => {
  it('makes every grid, and of a number a grid of one step', () => {
    const desk = makeDesk(target());
    const bell = desk.ok ? desk.value.slots[0]?.types.get('peaking') : undefined;
    expect(bell?.grids.frequency.count).toBe(31);
    expect([bell?.grids.q?.count, bell?.grids.gain?.count]).toEqual([1, 1]);
  });

  it.each([
    {
      name: 'a kind nobody knows',
      changes: { quantisers: { log: { kind: 'geometrical' } } },
      code: 'grid-refused',
      path: 'quantisers.log',
      says: 'did you mean',
    },
    {
      name: 'parameters its kind refuses',
      changes: { quantisers: { log: { kind: 'geometric', from: 20000, to: 20, count: 31 } } },
      code: 'grid-refused',
      path: 'quantisers.log',
      says: 'must be above 20000',
    },
    {
      name: 'frequencies beyond half a sample rate',
      changes: {
        realisations: [{ id: 'slow', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(32000) }],
      },
      code: 'grid-unfit',
      path: 'slots[0].types.peaking.frequency',
      says: '"slow"',
    },
    {
      // The cookbook's w0 / sin w0 is 440 at 22 kHz of 44.1: six octaves become a Q below the least number there is.
      name: 'a width that cannot be built at the highest frequency',
      changes: {
        quantisers: { log: { kind: 'geometric', from: 20, to: 22000, count: 31 } },
        slots: [{ id: '1', types: { peaking: { frequency: 'log', bandwidth: 6, gain: -6 } } }],
        realisations: [{ id: 'slow', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(44100) }],
      },
      code: 'grid-unfit',
      path: 'slots[0].types.peaking',
      says: 'cannot build it at frequency 22000, bandwidth 6',
    },
    {
      name: 'a slope no cut has',
      changes: { slots: [{ id: '1', types: { lowpass: { frequency: 'log', slope: 13 } } }] },
      code: 'grid-unfit',
      path: 'slots[0].types.lowpass.slope',
      says: '13 dB per octave',
    },
    {
      name: 'a Q of nothing',
      changes: { slots: [{ id: '1', types: { peaking: { frequency: 'log', q: 0, gain: -6 } } }] },
      code: 'grid-unfit',
      path: 'slots[0].types.peaking.q',
      says: 'above 0',
    },
  ] as { name: string; changes: Partial<Target>; code: string; path: string; says: string }[])(
    'refuses $name',
    ({ changes, code, path, says }) => {
      const desk = makeDesk(target(changes));
      expect(desk.ok ? [] : desk.error).toMatchObject([{ code, path }]);
      expect(desk.ok ? '' : desk.error[0]?.message).toContain(says);
    },
  );
});
