import { describe, expect, it } from 'vitest';
import type { OscEncoding } from '../../src/model/target.js';
import { nearestOn, type Scale, type ScaleSetting } from '../../src/osc/encodings/encoding.js';
import { argumentFor, settingIn } from '../../src/osc/encodings/registry.js';
import { asFloat32, type OscArgument } from '../../src/osc/message.js';

const knob = (index: number, of: number, value: number | null, text: string): ScaleSetting => ({
  index,
  of,
  value,
  text,
});

const bellFrequency = knob(175, 177, 19320, '19.32 kHz');
const bellGain = knob(21, 61, -4.5, '-4.5 dB');
const bellType = knob(2, 5, null, 'bell');

const as = (way: OscEncoding['as'], type: OscEncoding['type']): OscEncoding => ({ as: way, type });

describe('how a step travels', () => {
  it.each<[string, OscEncoding, ScaleSetting, OscArgument]>([
    ['a value as a float', as('engineering', 'f'), bellFrequency, { type: 'f', value: 19320 }],
    ['a value as a double', as('engineering', 'd'), knob(1, 9, 0.1, '0.1'), { type: 'd', value: 0.1 }],
    ['a whole value as an integer', as('engineering', 'i'), bellFrequency, { type: 'i', value: 19320 }],
    ['a whole value as a long integer', as('engineering', 'h'), bellFrequency, { type: 'h', value: 19320n }],
    ['a value in decimal', as('engineering', 's'), bellGain, { type: 's', value: '-4.5' }],
    [
      'a tiny value in decimal',
      as('engineering', 's'),
      knob(0, 2, 1e-7, ''),
      { type: 's', value: '0.0000001' },
    ],
    ['a gain of -0 dB', as('engineering', 'f'), knob(30, 61, -0, '0.0 dB'), { type: 'f', value: 0 }],
    ['a step as an integer', as('index', 'i'), bellGain, { type: 'i', value: 21 }],
    ['a step as a long integer', as('index', 'h'), bellGain, { type: 'h', value: 21n }],
    ['a step as a float', as('index', 'f'), bellGain, { type: 'f', value: 21 }],
    ['a step as a double', as('index', 'd'), bellGain, { type: 'd', value: 21 }],
    ['a step in decimal', as('index', 's'), bellGain, { type: 's', value: '21' }],
    ['a type by its place', as('index', 'i'), bellType, { type: 'i', value: 2 }],
    ['the bottom step as a fraction', as('fraction', 'f'), knob(0, 61, -15, ''), { type: 'f', value: 0 }],
    ['the top step as a fraction', as('fraction', 'f'), knob(60, 61, 15, ''), { type: 'f', value: 1 }],
    ['a step between as a fraction', as('fraction', 'd'), knob(15, 61, -7.5, ''), { type: 'd', value: 0.25 }],
    ['the only step of a grid', as('fraction', 'f'), knob(0, 1, 12, '12 dB/oct'), { type: 'f', value: 0 }],
    ['either end as a whole fraction', as('fraction', 'i'), knob(1, 2, 1, 'on'), { type: 'i', value: 1 }],
    ['what the desk shows', as('text', 's'), bellFrequency, { type: 's', value: '19.32 kHz' }],
  ])('%s', (_, encoding, setting, argument) => {
    expect(argumentFor(encoding, setting)).toEqual({ ok: true, value: argument });
  });

  it('a value goes into a float as the value that will arrive', () => {
    const sent = argumentFor(as('engineering', 'f'), knob(3, 9, 0.7, '0.7'));
    // IEEE 754 binary32: the float nearest to 0.7 is 0x3f333333, 11744051 / 2^24.
    expect(sent).toEqual({ ok: true, value: { type: 'f', value: 11744051 / 2 ** 24 } });
    expect(asFloat32(0.7)).toBe(11744051 / 2 ** 24);
  });

  it.each<[string, OscEncoding, ScaleSetting, RegExp]>([
    ['a fractional gain as an integer', as('engineering', 'i'), bellGain, /-4\.5 cannot be sent as i/],
    ['a fractional gain as a long integer', as('engineering', 'h'), bellGain, /-4\.5 cannot be sent as h/],
    ['a fraction as an integer', as('fraction', 'i'), bellGain, /0\.35 cannot be sent as i/],
    ['a value beyond int32', as('engineering', 'i'), knob(1, 2, 2 ** 31, ''), /cannot be sent as i/],
    [
      'a step beyond what a float counts',
      as('index', 'f'),
      knob(2 ** 24 + 1, 2 ** 25, 1, ''),
      /would make it 16777216/,
    ],
    ['a text as a number', as('text', 'f'), bellFrequency, /"19\.32 kHz" cannot be sent as f: as s it can/],
    ['a type as a value', as('engineering', 'f'), bellType, /"bell" is no number/],
    ['a text with a NUL', as('text', 's'), knob(0, 1, 0, 'a\0'), /NUL/],
  ])('%s is refused, not rounded', (_, encoding, setting, reason) => {
    const outcome = argumentFor(encoding, setting);
    expect(outcome.ok ? outcome.value : outcome.error).toMatch(reason);
  });
});

describe('what a number that came back stands for', () => {
  const scaleOf = (measure: Scale['measure'], ...values: readonly number[]): Scale => ({
    count: values.length,
    measure,
    at: (index) => knob(index, values.length, values[index] ?? Number.NaN, `${values[index]} dB`),
  });

  // By hand: 1 and 4 are equally far from 2 by ratio, -3 and 3 from 0 by difference.
  it.each<[string, Scale, number, number]>([
    ['a tie by difference', scaleOf('difference', -3, 3), 0, 1],
    ['a tie by ratio', scaleOf('ratio', 1, 4), 2, 1],
    ['just below a tie', scaleOf('ratio', 1, 4), 1.999, 0],
    ['below the bottom stop', scaleOf('difference', -3, 3), -99, 0],
    ['above the top stop', scaleOf('difference', -3, 3), 99, 1],
  ])('%s', (_, scale, number, index) => {
    expect(nearestOn(scale, number)).toEqual({ ok: true, value: index });
  });

  it.each<[string, Scale, number]>([
    ['a number on a scale of words', scaleOf(null, 0, 1), 1],
    ['nothing above 0 by ratio', scaleOf('ratio', 1, 4), 0],
    ['more than a double holds', scaleOf('ratio', 1, 4), Number.POSITIVE_INFINITY],
  ])('%s is no step', (_, scale, number) => {
    expect(nearestOn(scale, number)).toMatchObject({ ok: false });
  });

  it('a text of more digits than a double holds is refused', () => {
    const said: OscArgument = { type: 's', value: `${'9'.repeat(400)} dB` };
    expect(settingIn(as('text', 's'), said, scaleOf('difference', -3, 3))).toMatchObject({ ok: false });
  });
});
