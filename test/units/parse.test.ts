import { describe, expect, it } from 'vitest';
import {
  parseBandwidth,
  parseCount,
  parseFrequency,
  parseGain,
  parseOutputs,
  parseQ,
  parseSlope,
} from '../../src/units/parse.js';

const noBreakSpace = '\u00a0';
const narrowNoBreakSpace = '\u202f';
const trueMinus = '\u2212';

describe('parseFrequency', () => {
  it.each([
    ['19k', 19000],
    ['19K', 19000],
    ['19 k', 19000],
    ['19k0', 19000],
    ['19k32', 19320],
    ['19K32', 19320],
    ['19k32 Hz', 19320],
    ['1k', 1000],
    ['0k5', 500],
    ['.5k', 500],
    ['19.32 kHz', 19320],
    ['19.32kHz', 19320],
    ['19 khz', 19000],
    ['19 KHZ', 19000],
    ['+19 kHz', 19000],
    ['19320', 19320],
    ['19320 Hz', 19320],
    ['35Hz', 35],
    ['35.98', 35.98],
    ['1.2e4', 12000],
    ['1.2E+4 Hz', 12000],
    ['  19k  ', 19000],
    [`19${noBreakSpace}kHz`, 19000],
    [`19${narrowNoBreakSpace}kHz`, 19000],
    // 1.001 · 1000 is 1000.9999999999999 in doubles; what was typed is 1001.
    ['1.001 kHz', 1001],
    ['1k001', 1001],
    ['16.35 kHz', 16350],
  ])('reads %j as %d Hz', (text, frequencyHz) => {
    expect(parseFrequency(text)).toEqual({ ok: true, value: frequencyHz });
  });

  it.each([
    ['', 'is empty'],
    ['   ', 'is empty'],
    ['kHz', 'holds no number'],
    ['k5', 'holds no number'],
    ['NaN', 'holds no number'],
    ['Infinity', 'holds no number'],
    ['-Infinity', 'holds no number'],
    ['--19k', 'holds no number'],
    ['nineteen', 'holds no number'],
    ['١٩k', 'holds no number'],
    ['19 dB', 'has "dB" after the number'],
    ['15 ms', 'has "ms" after the number'],
    ['19 MHz', 'has "MHz" after the number'],
    ['19kk', 'has "kk" after the number'],
    ['19k3k', 'has "k3k" after the number'],
    ['19.5k3', 'has "k3" after the number'],
    ['19.', 'has "." after the number'],
    ['1.2.3', 'has ".3" after the number'],
    ['0x4A', 'has "x4A" after the number'],
    ['1_000', 'has "_000" after the number'],
    ['19k;rm', 'has "k;rm" after the number'],
    ['0', 'is not above zero'],
    ['0k0', 'is not above zero'],
    ['-5 Hz', 'is not above zero'],
    [`${trueMinus}19k`, 'is not above zero'],
    ['1e400', 'is too large a number'],
    ['1e-400', 'is too small a number'],
    ['9'.repeat(65), 'is longer than 64 characters'],
  ])('refuses %j: %s', (text, complaint) => {
    const outcome = parseFrequency(text);
    expect(outcome.ok ? outcome.value : outcome.error).toContain(`${complaint}`);
    expect(outcome).toMatchObject({
      ok: false,
      error: expect.stringMatching(/; a frequency is above zero, in Hz or kHz, as in "19\.32 kHz", .*\.$/),
    });
  });

  it('tells the whole of it in one sentence', () => {
    expect(parseFrequency('15 ms')).toEqual({
      ok: false,
      error:
        '"15 ms" has "ms" after the number; a frequency is above zero, in Hz or kHz, as in "19.32 kHz", "19k32" or "19320".',
    });
  });
});

describe('parseGain', () => {
  it.each([
    ['-15', -15],
    ['-15dB', -15],
    ['-15 dB', -15],
    ['-15 DB', -15],
    ['+3 dB', 3],
    ['3', 3],
    ['-.5', -0.5],
    ['0 dB', 0],
    [`${trueMinus}15 dB`, -15],
  ])('reads %j as %d dB', (text, gainDb) => {
    expect(parseGain(text)).toEqual({ ok: true, value: gainDb });
  });

  it.each(['-0', '-0.0 dB', `${trueMinus}0`, '-0e5'])('reads %j as a zero without a sign', (text) => {
    const outcome = parseGain(text);
    expect(outcome.ok && Object.is(outcome.value, 0)).toBe(true);
  });

  it.each([
    ['dB', 'holds no number'],
    ['+-3', 'holds no number'],
    ['-', 'holds no number'],
    ['-15 Hz', 'has "Hz" after the number'],
    ['-15 dBFS', 'has "dBFS" after the number'],
    ['-15 dB/oct', 'has "dB/oct" after the number'],
    ['-Infinity', 'holds no number'],
    ['-1e999', 'is too large a number'],
  ])('refuses %j: %s', (text, complaint) => {
    expect(parseGain(text)).toMatchObject({ ok: false, error: expect.stringContaining(complaint) });
  });
});

describe('parseQ', () => {
  it.each([
    ['10', 10],
    ['Q10', 10],
    ['Q 10', 10],
    ['q0.71', 0.71],
    ['0.71', 0.71],
  ])('reads %j as Q %d', (text, q) => {
    expect(parseQ(text)).toEqual({ ok: true, value: q });
  });

  it.each([
    ['Q', 'holds no number'],
    ['QQ10', 'holds no number'],
    ['0', 'is not above zero'],
    ['Q-1', 'is not above zero'],
    ['10 oct', 'has "oct" after the number'],
  ])('refuses %j: %s', (text, complaint) => {
    expect(parseQ(text)).toMatchObject({ ok: false, error: expect.stringContaining(complaint) });
  });
});

describe('parseBandwidth', () => {
  it.each([
    ['0.5 oct', 0.5],
    ['0.5', 0.5],
    ['1/3 oct', 1 / 3],
    ['1/3', 1 / 3],
    ['1 / 3 octave', 1 / 3],
    ['2 octaves', 2],
    ['1oct', 1],
  ])('reads %j as %d octaves', (text, bandwidthOctaves) => {
    expect(parseBandwidth(text)).toEqual({ ok: true, value: bandwidthOctaves });
  });

  it.each([
    ['1/0', 'divides by zero'],
    ['0/3', 'is not above zero'],
    ['-1/3', 'has "/3" after the number'],
    ['1/3/2', 'has "/2" after the fraction'],
    ['1.5/2', 'has "/2" after the number'],
    ['100 Hz', 'has "Hz" after the number'],
    ['1/3 dB', 'has "dB" after the fraction'],
  ])('refuses %j: %s', (text, complaint) => {
    expect(parseBandwidth(text)).toMatchObject({ ok: false, error: expect.stringContaining(complaint) });
  });
});

describe('parseSlope', () => {
  it.each([
    ['12', 12],
    ['12 dB/oct', 12],
    ['12dB/octave', 12],
    ['12 dB / oct', 12],
    ['12DB/OCT', 12],
  ])('reads %j as %d dB per octave', (text, slopeDbPerOctave) => {
    expect(parseSlope(text)).toEqual({ ok: true, value: slopeDbPerOctave });
  });

  it.each([
    ['12 dB', 'has "dB" after the number'],
    ['-12 dB/oct', 'is not above zero'],
    ['12 dB/dec', 'has "dB/dec" after the number'],
  ])('refuses %j: %s', (text, complaint) => {
    expect(parseSlope(text)).toMatchObject({ ok: false, error: expect.stringContaining(complaint) });
  });
});

describe('parseCount', () => {
  it.each([
    ['1', 1],
    ['12', 12],
    [' 3 ', 3],
  ])('reads %j as %d', (text, count) => {
    expect(parseCount(text)).toEqual({ ok: true, value: count });
  });

  it('takes 0 where 0 makes sense', () => {
    expect(parseCount('0', 0)).toEqual({ ok: true, value: 0 });
  });

  it.each([
    ['0', 'is less than 1'],
    ['-1', 'is not a whole number'],
    ['1.5', 'is not a whole number'],
    ['1e3', 'is not a whole number'],
    ['99999999999999999999', 'is too large a number'],
  ])('refuses %j: %s', (text, complaint) => {
    expect(parseCount(text)).toMatchObject({ ok: false, error: expect.stringContaining(complaint) });
  });
});

describe('parseOutputs', () => {
  it.each([
    ['3', [3]],
    ['3/4', [3, 4]],
    ['3,4', [3, 4]],
    ['3, 4', [3, 4]],
    ['4/3', [4, 3]],
    ['1024', [1024]],
  ])('reads %j as %j', (text, outputs) => {
    expect(parseOutputs(text)).toEqual({ ok: true, value: outputs });
  });

  it.each([
    ['0', 'is not one output or two'],
    ['3-4', 'is not one output or two'],
    ['3/4/5', 'is not one output or two'],
    ['3/', 'is not one output or two'],
    ['L/R', 'is not one output or two'],
    ['3/3', 'names the same output twice'],
    ['3/1025', 'names an output that is too high'],
  ])('refuses %j: %s', (text, complaint) => {
    expect(parseOutputs(text)).toMatchObject({ ok: false, error: expect.stringContaining(complaint) });
  });
});
