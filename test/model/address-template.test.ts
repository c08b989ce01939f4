import { describe, expect, it } from 'vitest';
import { fillAddress, isOscAddress } from '../../src/model/address-template.js';

describe('an OSC address', () => {
  it.each(['/a', '/mix/3/filter/1/frequency', '/A-z_0.9', '/~!"$%&\'()+:;<=>@^`|\\'])(
    '%s is one',
    (address) => {
      expect(isOscAddress(address)).toBe(true);
    },
  );

  // OpenSoundControl 1.0, "OSC Address Spaces": these may not stand in a name.
  it.each([' ', '#', '*', ',', '?', '[', ']', '{', '}', '\0', '\n', '\x7f', 'ä'])(
    'no name holds %j',
    (character) => {
      expect(isOscAddress(`/a${character}b`)).toBe(false);
    },
  );

  it.each(['', '/', 'a', 'a/b', '//a', '/a//b', '/a/', ' /a'])('%j is none', (address) => {
    expect(isOscAddress(address)).toBe(false);
  });

  it('is told apart in time that grows with its length alone', () => {
    expect(isOscAddress(`${'/a'.repeat(100_000)}{`)).toBe(false);
  });
});

describe('an address template', () => {
  it.each<[string, number, string, string]>([
    ['/mix/{output}/filter/{slot}/frequency', 3, '1', '/mix/3/filter/1/frequency'],
    ['/mix/{output:02}/filter/{slot:03}/q', 3, '1', '/mix/03/filter/001/q'],
    ['/mix/{output:02}', 123, '1', '/mix/123'],
    ['/mix/{output:01}', 7, '1', '/mix/7'],
    ['/{slot}/{output}/{output:04}', 12, 'low-cut', '/low-cut/12/0012'],
    ['/bus{output}_{slot}.gain', 5, 'b2', '/bus5_b2.gain'],
    ['/all/on', 5, '1', '/all/on'],
  ])('%s', (template, output, slot, address) => {
    expect(fillAddress(template, { output, slot })).toEqual({ ok: true, value: address });
  });

  it('needs no slot where it names none', () => {
    expect(fillAddress('/mix/{output}/name', { output: 2 })).toEqual({ ok: true, value: '/mix/2/name' });
  });

  it.each<[string, string, RegExp]>([
    ['/mix/{mix}/q', '1', /"\/mix\/\{mix\}\/q", which is no OSC address.*\{output\} and \{slot\}/],
    ['/mix/{output:2}', '1', /no OSC address/],
    ['/mix/{output', '1', /no OSC address/],
    ['mix/{output}', '1', /no OSC address/],
    ['/mix/{output}/*', '1', /no OSC address/],
    ['/mix/{slot:02}', 'low-cut', /"low-cut" is no number\. Write \{slot\} instead/],
    ['/mix/{slot}', 'a b', /no OSC address/],
    ['/mix/{slot}', 'a/b*', /no OSC address/],
  ])('%s with slot %s is refused', (template, slot, reason) => {
    const outcome = fillAddress(template, { output: 1, slot });
    expect(outcome.ok ? outcome.value : outcome.error).toMatch(reason);
  });

  it('refuses a slot that is asked for and not there', () => {
    const outcome = fillAddress('/mix/{output}/{slot}', { output: 1 });
    expect(outcome.ok ? outcome.value : outcome.error).toMatch(/asks for \{slot\}/);
  });
});
