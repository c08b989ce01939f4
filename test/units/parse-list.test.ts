import { describe, expect, it } from 'vitest';
import { parseList } from '../../src/units/parse-list.js';

const valuesIn = (text: string): unknown => {
  const read = parseList(text);
  return read.ok ? read.value.map(({ value }) => value) : read.error;
};

// By hand: what each text says to whoever reads it.
describe('a list of values', () => {
  it.each<[string, readonly number[]]>([
    ['20, 25, 31.5, 1k', [20, 25, 31.5, 1000]],
    ['20,25,31.5\r\n40,50', [20, 25, 31.5, 40, 50]],
    ['20 25\t31.5;40 ; 50', [20, 25, 31.5, 40, 50]],
    ['20 Hz 999.5 Hz 1 kHz 1.25kHz 19k32 20 K', [20, 999.5, 1000, 1250, 19320, 20000]],
    ['20\u00a0Hz\u2009, 1\u202fkHz', [20, 1000]],
    ['-15 dB, \u22127.5, 0, +7.5 dB', [-15, -7.5, 0, 7.5]],
    ['12 dB/oct 24dB/octave', [12, 24]],
    ['1/4 1/2 oct 1 octave', [0.25, 0.5, 1]],
    ['Q 0.5, Q0.75, 1', [0.5, 0.75, 1]],
    ['1e3 1.5e3', [1000, 1500]],
    [' 12 ', [12]],
  ])('%j', (text, values) => {
    expect(valuesIn(text)).toEqual(values);
  });

  it.each<[string, string]>([
    ['', 'there is no value in it'],
    [' ,;\n', 'there is no value in it'],
    ['20 25 ... 20k', '"..." stands for values that are left out; write out every one'],
    ['20, 25, …, 20k', '"…" stands for values that are left out'],
    ['20 2x5', '"2x5" has "x5" after the number; a value is a number with its unit or without'],
    ['20 Hz, low, 40 Hz', '"low" holds no number that can be read'],
    ['20, 25, 31,5', '"31,5" is not read as it stands: a comma may part two values or be a decimal mark'],
    ['20\n31,5 40', '"31,5" is not read as it stands'],
    ['900, 1,000', '"1,000" is not read as it stands'],
    ['20 Hz 6 dB', '"6dB" is one of gains, and frequencies stand before it'],
    ['0 Hz', '"0Hz" is not above zero; a frequency is above zero, in Hz or kHz'],
    ['20 \u001b[2J', '"\\u{1b}[2J" holds no number'],
  ])('refuses %j', (text, says) => {
    expect(valuesIn(text)).toEqual(expect.stringContaining(says));
  });
});
