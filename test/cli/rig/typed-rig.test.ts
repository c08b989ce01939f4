import { describe, expect, it } from 'vitest';
import { nextPair, parseMix, splitMixes } from '../../../src/cli/rig/typed-mixes.js';
import { idOf, parsePreEmphasis, parseRange, parseSystem } from '../../../src/cli/rig/typed-system.js';
import type { Mix } from '../../../src/model/rig.js';

const mixes: readonly Mix[] = [{ name: 'Singer', outputs: [1, 2], feeds: 'packs' }];
const defaults = { systems: ['packs', 'wired'], feeds: 'packs', mixes };

const mixOf = (text: string) => {
  const mix = parseMix(text, defaults);
  return mix.ok ? [mix.value.name, mix.value.outputs.join('/'), mix.value.feeds] : mix.error;
};

describe('a mix as it is typed', () => {
  it.each<[string, string, string, string]>([
    ['Drums', 'Drums', '3/4', 'packs'],
    ['Drums 7', 'Drums', '7', 'packs'],
    ['Drums 7/8 wired', 'Drums', '7/8', 'wired'],
    ['Drums 7, 8', 'Drums', '7/8', 'packs'],
    ['Drums wired', 'Drums', '3/4', 'wired'],
    ['Drums: wired', 'Drums', '3/4', 'wired'],
    ['Drums=7:wired', 'Drums', '7', 'wired'],
    ['Drums=7 wired', 'Drums', '7', 'wired'],
    ['Drums=wired', 'Drums', '3/4', 'wired'],
    ['Guitar left 9/10', 'Guitar left', '9/10', 'packs'],
    ['"Guest 2"', 'Guest 2', '3/4', 'packs'],
    ['"Guest 2" 5 wired', 'Guest 2', '5', 'wired'],
    ['"Guest 2"=5:wired', 'Guest 2', '5', 'wired'],
    ['packs', 'packs', '3/4', 'packs'],
    ['"Singer 5/6 pakcs"', 'Singer 5/6 pakcs', '3/4', 'packs'],
    ['"Guest 2 left" 5', 'Guest 2 left', '5', 'packs'],
    ['Guest 2 5/6', 'Guest 2', '5/6', 'packs'],
    ['Guest 1=7:wired', 'Guest 1', '7', 'wired'],
    ['Room A-2', 'Room A-2', '3/4', 'packs'],
  ])('%s', (text, name, outputs, feeds) => {
    expect(mixOf(text)).toEqual([name, outputs, feeds]);
  });

  it.each<[string, RegExp]>([
    ['Drums=7:pakcs', /"pakcs"; did you mean "packs"\?/],
    ['Singer 5/6 pakcs', /no system is called "pakcs"; did you mean "packs"\?.*double quotes/],
    ['Singer 5 pakcs', /no system is called "pakcs"; did you mean "packs"\?/],
    ['Singer 5/6: pakcs', /no system is called "pakcs"; did you mean "packs"\?/],
    ['Singer: pakcs', /no system is called "pakcs"; did you mean "packs"\?/],
    ['Singer pakcs', /no system is called "pakcs"; did you mean "packs"\?/],
    ['Singer 5/6 radio', /no system is called "radio"\. There are: "packs", "wired"/],
    ['Singer 5/6 packs extra', /not plain where the name ends.*double quotes/],
    ['Singer 5/6 extra packs', /not plain where the name ends/],
    ['Singer 5-6', /not plain where the name ends.*1\/2/],
    ['Singer 5\u20136 packs', /not plain where the name ends/],
    ['Singer5/6', /not plain where the name ends/],
    ['5/6 Singer', /not plain where the name ends/],
    ['Singer 5/6/7', /not plain where the name ends/],
    ['Singer 5/6=packs', /not plain where the name ends/],
    ['Singer 5 6', /not plain where the name ends/],
    ['Drums 7/7', /the same output twice/],
    ['Drums 0', /not one output/],
    ['"Guest" 1 2 3', /is no mix|No system/],
  ])('refuses %s', (text, told) => {
    expect(mixOf(text)).toMatch(told);
  });

  it('of several is parted at commas before what is no number, and outside quotes', () => {
    expect(splitMixes('Singer 1/2, Drums 7')).toEqual(['Singer 1/2', 'Drums 7']);
    expect(splitMixes('Singer 1,2; Drums\nKeys')).toEqual(['Singer 1,2', 'Drums', 'Keys']);
    expect(splitMixes('"Keys, left" 5,Bass')).toEqual(['"Keys, left" 5', 'Bass']);
    expect(splitMixes(' , ')).toEqual([]);
  });

  it('without outputs takes the pair after all that are taken', () => {
    expect(nextPair([])).toEqual([1, 2]);
    expect(nextPair(mixes)).toEqual([3, 4]);
    expect(nextPair([{ name: 'x', outputs: [7], feeds: 'packs' }])).toEqual([9, 10]);
    // Outputs are numbered 1 to 1024 (schemas/common.schema.json).
    expect(nextPair([{ name: 'x', outputs: [1023], feeds: 'packs' }])).toBeNull();
    expect(nextPair([{ name: 'x', outputs: [1022], feeds: 'packs' }])).toEqual([1023, 1024]);
  });
});

describe('a system as it is typed', () => {
  it.each(['40 Hz to 15 kHz', '40..15000', '40 - 15k', '40Hz–15kHz', '40 … 15 kHz'])('range %s', (text) => {
    expect(parseRange(text)).toEqual({ ok: true, value: { audioLowHz: 40, audioHighHz: 15000 } });
  });

  it.each(['40', '40 to 15k to 16k', 'wide', '40 to loud', ''])('refuses the range "%s"', (text) => {
    expect(parseRange(text).ok).toBe(false);
  });

  it.each<[string, number | null]>([
    ['50us', 50],
    ['75 µs', 75],
    ['0', 0],
    ['not known', null],
  ])('pre-emphasis %s', (text, microseconds) => {
    expect(parsePreEmphasis(text)).toEqual({ ok: true, value: microseconds });
  });

  it('in one go, in any order', () => {
    const system = { link: 'fm-stereo', audioLowHz: 40, audioHighHz: 15000, preEmphasisMicroseconds: 75 };
    for (const text of ['Packs A=analogue,40..15000,75us', 'Packs A = fm, 75 us, 40 Hz to 15 kHz']) {
      expect(parseSystem(text)).toEqual({ ok: true, value: { name: 'Packs A', system } });
    }
    expect(parseSystem('x=wired')).toEqual({ ok: true, value: { name: 'x', system: { link: 'wired' } } });
  });

  it.each(['x=radio', 'x=constructor', 'x=toString', 'x=__proto__'])(
    'refuses %s, which is no kind',
    (text) => {
      const system = parseSystem(text);
      expect(system.ok ? system.value : system.error).toMatch(/is no kind of link; there are analogue/);
    },
  );

  it('has an id made of its name', () => {
    expect(['Packs A', 'Émetteur 2', '  9 Volt ', '!!'].map(idOf)).toEqual([
      'packs-a',
      'emetteur-2',
      'volt',
      '',
    ]);
  });
});
