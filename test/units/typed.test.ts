import { describe, expect, it } from 'vitest';
import {
  parseBandwidth,
  parseCount,
  parseFrequency,
  parseGain,
  parseOutputs,
} from '../../src/units/parse.js';

describe('a spelling that has a likely meaning', () => {
  it.each([
    ['a decimal comma', parseFrequency, '19,32 kHz', '"19.32 kHz"'],
    ['a decimal comma', parseBandwidth, '0,5 oct', '"0.5 oct"'],
    ['a decimal comma', parseGain, '-0,5', '"-0.5"'],
    ['a comma that may group thousands', parseFrequency, '19,320 Hz', '"19.320 Hz" or "19320 Hz"'],
    ['commas that group thousands', parseCount, '1,234,567', '"1234567"'],
    ['spaces that group thousands', parseFrequency, '19 320', '"19320"'],
    ['an output number with a comma', parseOutputs, '1,024', '"1024"'],
    ['an en dash for a minus sign', parseGain, '\u201315 dB', '"-15 dB"'],
  ])('%s is refused and the plain spelling shown', (_, parse, text, offered) => {
    expect(parse(text)).toMatchObject({
      ok: false,
      error: expect.stringContaining(
        `"${text}" is not read as it stands: write ${offered} if that is meant; `,
      ),
    });
  });

  it('is not offered where the plain spelling would be refused as well', () => {
    const outcome = parseFrequency('1.234,5');
    expect(outcome).toMatchObject({ ok: false, error: expect.stringContaining('has ",5" after the number') });
  });
});

describe('what a refusal quotes', () => {
  it.each([
    ['\u001b[31m19k', '"\\u{1b}[31m19k"'],
    ['19k\u202e', '"19k\\u{202e}"'],
    ['19\r\nkHz', '"19\\u{d}\\u{a}kHz"'],
    ['\ud800', '"\\u{d800}"'],
  ])('%j is shown as %s', (text, shown) => {
    const outcome = parseFrequency(text);
    expect(outcome).toMatchObject({ ok: false, error: expect.stringContaining(shown) });
    expect(outcome.ok || /[\p{Cc}\p{Cf}\p{Cs}]/u.test(outcome.error)).toBe(false);
  });

  it('is cut when it is long', () => {
    const outcome = parseFrequency('9'.repeat(1_000_000));
    expect(outcome.ok || outcome.error.length).toBeLessThan(300);
  });
});
