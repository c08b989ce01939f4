import { describe, expect, it } from 'vitest';
import {
  formatCents,
  formatDecibels,
  formatExact,
  formatFrequency,
  formatGain,
  formatOctaves,
  formatPerCent,
  formatQ,
  formatSlope,
} from '../../src/units/format.js';
import { cents, db, dbPerOctave, hz, octaves, q } from '../../src/units/quantity.js';

describe('formatFrequency', () => {
  it.each([
    [35.98, '35.98 Hz'],
    [35.9764, '35.98 Hz'],
    [20, '20 Hz'],
    [0.05, '0.05 Hz'],
    [999.94, '999.9 Hz'],
    [999.96, '1 kHz'],
    [1000, '1 kHz'],
    [1234.5, '1.235 kHz'],
    [15000, '15 kHz'],
    [19320, '19.32 kHz'],
    [19317.6, '19.32 kHz'],
    [19000.4, '19 kHz'],
    [123456, '123.5 kHz'],
    [1234567, '1235 kHz'],
  ])('%d Hz is %s', (frequencyHz, shown) => {
    expect(formatFrequency(hz(frequencyHz))).toBe(shown);
  });
});

describe('formatGain', () => {
  it.each([
    [-15, '-15 dB'],
    [3, '+3 dB'],
    [-0.5, '-0.5 dB'],
    [0.25, '+0.25 dB'],
    [-12.347, '-12.35 dB'],
    [0, '0 dB'],
    [-0, '0 dB'],
    [-0.004, '0 dB'],
    [0.004, '0 dB'],
  ])('%d is %s', (gainDb, shown) => {
    expect(formatGain(db(gainDb))).toBe(shown);
  });
});

describe('what is dialled keeps four digits', () => {
  it.each([
    [formatQ(q(10)), '10'],
    [formatQ(q(Math.SQRT1_2)), '0.7071'],
    [formatOctaves(octaves(0.5)), '0.5 oct'],
    [formatOctaves(octaves(1 / 3)), '0.3333 oct'],
    [formatSlope(dbPerOctave(12)), '12 dB/oct'],
  ])('%s', (shown, expected) => {
    expect(shown).toBe(expected);
  });
});

describe('what is judged by keeps one decimal', () => {
  it.each([
    [formatDecibels(db(34)), '34.0 dB'],
    [formatDecibels(db(-3.46)), '-3.5 dB'],
    [formatDecibels(db(-0.04)), '0.0 dB'],
    [formatCents(cents(12.34)), '+12.3 cents'],
    [formatCents(cents(-46.2)), '-46.2 cents'],
    [formatCents(cents(0)), '0.0 cents'],
    [formatCents(cents(-0.01)), '0.0 cents'],
    [formatPerCent(0.017), '+1.7 %'],
    [formatPerCent(-0.5), '-50.0 %'],
    [formatPerCent(0.0004), '0.0 %'],
  ])('%s', (shown, expected) => {
    expect(shown).toBe(expected);
  });
});

describe('formatExact', () => {
  it.each([
    [0, '0'],
    [-0, '0'],
    [0.1, '0.1'],
    [0.1 + 0.2, '0.30000000000000004'],
    [-15, '-15'],
    [19320, '19320'],
    [1e-7, '0.0000001'],
    [-1.5e-10, '-0.00000000015'],
    [1e21, '1000000000000000000000'],
    [1.5e21, '1500000000000000000000'],
    [-1.25e22, '-12500000000000000000000'],
    [Number.MAX_SAFE_INTEGER, '9007199254740991'],
    [5e-324, '5e-324'],
    [Number.MAX_VALUE, '1.7976931348623157e+308'],
  ])('%d is %s', (value, shown) => {
    expect(formatExact(value)).toBe(shown);
  });
});

describe('what is no number', () => {
  it.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])('%d is never shown', (value) => {
    expect(() => formatExact(value)).toThrow(RangeError);
    expect(() => formatFrequency(hz(value))).toThrow(RangeError);
    expect(() => formatGain(db(value))).toThrow(RangeError);
    expect(() => formatDecibels(db(value))).toThrow(RangeError);
    expect(() => formatCents(cents(value))).toThrow(RangeError);
  });
});
