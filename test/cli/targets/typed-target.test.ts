import { describe, expect, it } from 'vitest';
import { guessedAddress, likeOther, readingsOf } from '../../../src/cli/targets/new/typed-address.js';
import { isReadings, parseGrid } from '../../../src/cli/targets/new/typed-grid.js';
import { groupWords, parseSlots, usualNames } from '../../../src/cli/targets/new/typed-slots.js';
import { displayFor, displayOf, parseDisplay } from '../../../src/cli/words/typed-display.js';
import type { Knob } from '../../../src/model/knob.js';
import { makeQuantiser } from '../../../src/quantisers/registry.js';

const slotsOf = (text: string) => {
  const groups = parseSlots(text);
  return groups.ok ? groups.value.map((group) => `${group.count} ${groupWords(group)}`) : groups.error;
};

describe('slots as people say them', () => {
  it.each<[string, readonly string[]]>([
    ['4 bells, a low cut and a high cut', ['4 bell', '1 low cut', '1 high cut']],
    ['4xbell,low-cut,high-cut', ['4 bell', '1 low cut', '1 high cut']],
    ['two bells or high shelves; a notch', ['2 bell or high shelf', '1 notch']],
    ['Low Pass + hi pass', ['"hi pass" is no type']],
    ['low shelf, three parametrics, highshelf', ['1 low shelf', '3 bell', '1 high shelf']],
    ['3 x bell/notch/high-pass filters', ['3 bell or notch or low cut']],
    ['12 bells & 1 allpass', ['12 bell', '1 all-pass']],
  ])('%s', (text, groups) => {
    const found = slotsOf(text);
    if (typeof found === 'string') expect(found).toContain(groups[0]);
    else expect(found).toEqual(groups);
  });

  it.each(['', '0 bells', '65 bells', '60 bells, 5 notches', '4', 'bells or'])('refuses "%s"', (text) => {
    expect(parseSlots(text).ok).toBe(false);
  });

  it('are numbered, but for the only cut of its kind', () => {
    const named = (text: string) => {
      const groups = parseSlots(text);
      return groups.ok ? usualNames(groups.value).join(' ') : '';
    };
    expect(named('low cut, 4 bells, high cut')).toBe('low 1 2 3 4 high');
    expect(named('2 low cuts, 2 bells or high cuts')).toBe('1 2 3 4');
  });
});

const gridOf = (text: string, knob: Knob = 'frequency') => {
  const grid = parseGrid(text, knob);
  return grid.ok ? grid.value : grid.error;
};

describe('grids as people say them', () => {
  it.each<[string, Knob, unknown]>([
    ['20 to 20000 Hz in 201 steps', 'frequency', { kind: 'geometric', from: 20, to: 20000, count: 201 }],
    ['20 Hz..20k, 201 values', 'frequency', { kind: 'geometric', from: 20, to: 20000, count: 201 }],
    ['-15 to 15 in 61 steps', 'gain', { kind: 'linear', from: -15, to: 15, step: 0.5 }],
    ['0.5 dB from -15 to 15', 'gain', { kind: 'linear', from: -15, to: 15, step: 0.5 }],
    ['-15 dB to +15 dB by 0.5', 'gain', { kind: 'linear', from: -15, to: 15, step: 0.5 }],
    ['20 to 400 in steps of 1 Hz', 'frequency', { kind: 'linear', from: 20, to: 400, step: 1 }],
    ['1 Hz steps from 20 to 400', 'frequency', { kind: 'linear', from: 20, to: 400, step: 1 }],
    ['1/6 octave', 'frequency', { kind: 'octave-fraction', from: 20, to: 20000, fraction: 6 }],
    ['1/12 oct from 40 to 16k', 'frequency', { kind: 'octave-fraction', from: 40, to: 16000, fraction: 12 }],
    [
      '12 per octave from 22 to 18k',
      'frequency',
      { kind: 'ratio-steps', from: 22, to: 18000, perOctave: 12 },
    ],
    ['6.6 steps to the octave', 'frequency', { kind: 'ratio-steps', from: 20, to: 20000, perOctave: 6.6 }],
    ['60 a decade, from 20 to 20k', 'frequency', { kind: 'ratio-steps', from: 20, to: 20000, perDecade: 60 }],
    ['r40, from 20 to 20k', 'frequency', { kind: 'preferred-numbers', from: 20, to: 20000, series: 'R40' }],
    [
      '3 digits from 20 to 20000',
      'frequency',
      { kind: 'significant-digits', from: 20, to: 20000, digits: 3 },
    ],
    ['any from 20 to 20000', 'frequency', { kind: 'continuous', from: 20, to: 20000 }],
    ['all 20 Hz 25 Hz 31.5 Hz\n1.25 kHz', 'frequency', { kind: 'table', values: [20, 25, 31.5, 1250] }],
    ['all 20, 25, 31.5', 'frequency', { kind: 'table', values: [20, 25, 31.5] }],
    ['24 12 18', 'slope', { kind: 'table', values: [12, 18, 24] }],
    ['12', 'slope', 12],
    ['Q 0.7', 'q', 0.7],
    ['1/3 oct', 'bandwidth', 1 / 3],
    ['0.1 oct to 3 oct in 30 steps', 'bandwidth', { kind: 'geometric', from: 0.1, to: 3, count: 30 }],
    ['{"kind":"linear","from":0,"to":1,"step":0.5}', 'gain', { kind: 'linear', from: 0, to: 1, step: 0.5 }],
  ])('%s', (text, knob, grid) => {
    expect(gridOf(text, knob)).toEqual(grid);
  });

  it.each<[string, Knob, RegExp]>([
    ['20 to 20000 in 1 steps', 'frequency', /"count" must be a whole number from 2/],
    ['20000 to 20 in 10 steps', 'frequency', /must be above 20000/],
    ['0.7 from -15 to 15', 'gain', /no whole number of steps/],
    ['wide', 'q', /"wide" is not understood; say a grid as in/],
    ['{"kind":"linear"', 'gain', /is no grid in JSON/],
    ['{"kind":"geometrik","from":1,"to":2,"count":3}', 'q', /geometric/],
    ['1/6 octave', 'q', /is not understood/],
    ['all 20 25 ... 80', 'frequency', /stands for values that are left out/],
    ['all 20 Hz, 3 dB', 'frequency', /is one of gains/],
    ['all 20 x', 'frequency', /holds no number/],
    ['20 apples to 30 in 4 steps', 'frequency', /"20 apples"/],
  ])('refuses %s', (text, knob, told) => {
    expect(gridOf(text, knob)).toMatch(told);
  });

  it.each<[string, boolean]>([
    ['20.0k 19.4k stop', true],
    ['20.0k top', true],
    ['20.0 20.6 21.2', true],
    ['20.00k 40 clicks down 5.06k', true],
    ['20 to 20000 in 201 steps', false],
    ['20..20k, 201 steps', false],
    ['all 12 18 24', false],
    ['0.5 from -15 to 15', false],
    ['1000', false],
  ])('%s: read off a knob? %s', (text, expected) => {
    expect(isReadings(text)).toBe(expected);
  });
});

const desk = { outputs: 16, slots: ['1', '2', '3', 'low'] };

const templatesOf = (address: string, isOfSlot = true, of = desk) => {
  const readings = readingsOf(address, of, isOfSlot);
  return readings.ok ? readings.value.map(({ template }) => template) : readings.error;
};

describe('an example address', () => {
  it.each<[string, readonly string[]]>([
    ['/mix/3/filter/2/gain', ['/mix/{output}/filter/{slot}/gain', '/mix/{slot}/filter/{output}/gain']],
    ['/mix/03/filter/2/gain', ['/mix/{output:02}/filter/{slot}/gain', '/mix/{slot:02}/filter/{output}/gain']],
    ['/mix/12/filter/2/gain', ['/mix/{output}/filter/{slot}/gain']],
    ['/mix/3/filter/low/on', ['/mix/{output}/filter/{slot}/on']],
    [
      '/mix/3/eq2/filter/7/on',
      [
        '/mix/{output}/eq{slot}/filter/7/on',
        '/mix/{slot}/eq{output}/filter/7/on',
        '/mix/{slot}/eq2/filter/{output}/on',
        '/mix/3/eq{slot}/filter/{output}/on',
      ],
    ],
    ['/x/{output:02}/{slot}', ['/x/{output:02}/{slot}']],
  ])('%s', (address, templates) => {
    const found = templatesOf(address);
    expect([...found].sort()).toEqual([...templates].sort());
    expect(found[0]).toBe(templates[0]);
  });

  it('of an output alone holds its number', () => {
    expect(templatesOf('/mix/03/name', false)).toEqual(['/mix/{output:02}/name']);
  });

  it('of a desk with one output and one slot holds none', () => {
    expect(templatesOf('/eq/gain', true, { outputs: 1, slots: ['1'] })).toEqual(['/eq/gain']);
  });

  it.each<[string, RegExp]>([
    ['mix/3/2', /begins with "\/"/],
    ['/mix/3 /2', /has no blanks/],
    ['/mix/gain', /the number of an output, 1 to 16 and the name of a slot, 1 2 3 low/],
    ['/mix/99/2/gain', /the number of an output|two numbers/],
    ['/mix/2/gain', /two numbers, one of an output and one of a slot/],
  ])('refuses %s', (address, told) => {
    expect(templatesOf(address)).toMatch(told);
  });

  it('is read like another that is known, and tells what others may be', () => {
    const readings = readingsOf('/mix/3/filter/2/gain', desk, true);
    const alike = readings.ok ? likeOther(readings.value, '/mix/{slot}/filter/{output}/q') : [];
    expect(alike.map(({ template }) => template)).toEqual(['/mix/{slot}/filter/{output}/gain']);
    expect(guessedAddress('/a/{output}/{slot}/frequency', 'gain')).toBe('/a/{output}/{slot}/gain');
    expect(guessedAddress('/a/{output}/{slot}/freq', 'q')).toBe('/a/{output}/{slot}/q');
    expect(guessedAddress('/a/{output}/{slot}/hz', 'q')).toBeNull();
    expect(guessedAddress(null, 'q')).toBeNull();
  });
});

describe('how a screen shows values', () => {
  it.each<[Knob, readonly string[], object | null]>([
    ['frequency', ['20.00k', '19.43k', '20.00'], { significantDigits: 4, kiloFromHz: 1000 }],
    ['frequency', ['19.32 kHz'], { significantDigits: 4, kiloFromHz: 1000 }],
    ['frequency', ['20', '400', '19320'], { decimals: 0 }],
    ['gain', ['-15.0', '-0.5', '0.0'], { decimals: 1 }],
    ['q', ['0.40', '10.00'], { decimals: 2 }],
    ['q', ['0.40', '10'], { significantDigits: 2 }],
    ['q', [], null],
  ])('%s %s', (knob, shown, display) => {
    expect(displayOf(knob, shown)).toEqual(display);
  });

  it('is read off one value of each knob', () => {
    expect(parseDisplay('19.32 kHz, 8.00, -15.0 dB', ['frequency', 'q', 'gain'])).toEqual({
      ok: true,
      value: {
        frequency: { significantDigits: 4, kiloFromHz: 1000 },
        q: { decimals: 2 },
        gain: { decimals: 1 },
      },
    });
    expect(parseDisplay('loud', ['gain']).ok).toBe(false);
    expect(parseDisplay('-15', ['q']).ok).toBe(false);
  });

  it('has as many digits as tell its steps apart, where nobody told', () => {
    // 1000 equal ratios from 20 to 20 000: 0.69 % a step, so that four digits tell any two apart, and three do not.
    const made = makeQuantiser({ kind: 'geometric', from: 20, to: 20000, count: 1000 });
    expect(made.ok && displayFor('frequency', [made.value])).toEqual({
      significantDigits: 4,
      kiloFromHz: 1000,
    });
    const fine = makeQuantiser({ kind: 'linear', from: -1, to: 1, step: 0.05 });
    expect(fine.ok && displayFor('gain', [fine.value])).toEqual({ decimals: 2 });
  });
});
