import { describe, expect, it } from 'vitest';
import { displayFor, displayOf, parseDisplay } from '../../src/cli/words/typed-display.js';
import type { Knob } from '../../src/model/knob.js';
import { makeQuantiser } from '../../src/quantisers/registry.js';

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
    const twice = parseDisplay('19.32 kHz, 8.00, 400 Hz', ['frequency', 'q', 'gain']);
    expect(twice.ok ? twice.value : twice.error).toMatch(
      /"400 Hz" is one more frequency, and "19.32 kHz" stands before it/,
    );
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
