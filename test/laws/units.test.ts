import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatExact,
  formatFrequency,
  formatGain,
  formatOctaves,
  formatQ,
  formatSlope,
} from '../../src/units/format.js';
import {
  parseBandwidth,
  parseFrequency,
  parseGain,
  parseOutputs,
  parseQ,
  parseSlope,
} from '../../src/units/parse.js';
import { db, dbPerOctave, hz, octaves, q } from '../../src/units/quantity.js';
import type { Result } from '../../src/units/result.js';

const valueIn = <Value>(outcome: Result<Value, string>): Value => {
  if (!outcome.ok) throw new Error(outcome.error);
  return outcome.value;
};

const anyNumber = fc.double({ noNaN: true, noDefaultInfinity: true });
const positive = fc.double({ min: 0, noNaN: true, noDefaultInfinity: true }).filter((value) => value > 0);
const dialled = fc.double({ min: 1e-3, max: 1e9, noNaN: true });

/** Half a unit in the fourth significant digit is at most this share of a number. */
const halfAFourthDigit = 0.0005 * (1 + 1e-9);

describe('numbers for files', () => {
  it('read back as the same double', () => {
    fc.assert(fc.property(anyNumber, (value) => Number(formatExact(value)) === value));
  });

  it('have no exponent from 1e-30 to 1e30, and no sign on zero', () => {
    const usual = anyNumber.filter(
      (value) => value === 0 || (Math.abs(value) >= 1e-30 && Math.abs(value) < 1e30),
    );
    fc.assert(
      fc.property(usual, (value) => {
        expect(formatExact(value)).toMatch(/^(-(?!0$))?\d+(\.\d*[1-9])?$/);
      }),
    );
  });

  it('are read by every parser as the same double', () => {
    fc.assert(
      fc.property(positive, (value) => {
        const text = formatExact(value);
        const parsers: readonly ((text: string) => Result<number, string>)[] = [
          parseFrequency,
          parseQ,
          parseBandwidth,
          parseSlope,
        ];
        for (const parse of parsers) expect(valueIn(parse(text))).toBe(value);
      }),
    );
    fc.assert(fc.property(anyNumber, (value) => valueIn(parseGain(formatExact(value))) === value + 0));
  });
});

describe('numbers for people', () => {
  it.each([
    ['a frequency', (value: number) => valueIn(parseFrequency(formatFrequency(hz(value))))],
    ['a Q', (value: number) => valueIn(parseQ(formatQ(q(value))))],
    ['a bandwidth', (value: number) => valueIn(parseBandwidth(formatOctaves(octaves(value))))],
    ['a slope', (value: number) => valueIn(parseSlope(formatSlope(dbPerOctave(value))))],
  ])('%s reads back within half a unit of the fourth digit', (_, roundTrip) => {
    fc.assert(
      fc.property(dialled, (value) => {
        expect(Math.abs(roundTrip(value) - value)).toBeLessThanOrEqual(halfAFourthDigit * value);
      }),
    );
  });

  it('a gain reads back within half a hundredth', () => {
    fc.assert(
      fc.property(fc.double({ min: -200, max: 200, noNaN: true }), (gainDb) => {
        const back = valueIn(parseGain(formatGain(db(gainDb))));
        expect(Math.abs(back - gainDb)).toBeLessThanOrEqual(0.005 + 1e-12);
        expect(Object.is(back, -0)).toBe(false);
      }),
    );
  });

  it('showing what was read from what was shown changes nothing', () => {
    fc.assert(
      fc.property(dialled, (value) => {
        const shown = formatFrequency(hz(value));
        expect(formatFrequency(valueIn(parseFrequency(shown)))).toBe(shown);
      }),
    );
  });
});

describe('the letter as a decimal mark', () => {
  it('reads as the number with a point, in kHz', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99 }), fc.stringMatching(/^\d{1,6}$/), (whole, decimals) => {
        expect(parseFrequency(`${whole}k${decimals}`)).toEqual(parseFrequency(`${whole}.${decimals} kHz`));
        expect(valueIn(parseFrequency(`${whole}k${decimals}`))).toBe(Number(`${whole}.${decimals}e3`));
      }),
    );
  });
});

describe('whatever is typed', () => {
  it('is read or refused in one printable sentence, never thrown at', () => {
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 80 }),
      fc.string({ unit: fc.constantFrom(...'-+0123456789.,kKHhz /eEQqdBoct\u2212\u001b'), maxLength: 20 }),
    );
    const parsers = [parseFrequency, parseGain, parseQ, parseBandwidth, parseSlope, parseOutputs];
    fc.assert(
      fc.property(text, fc.constantFrom(...parsers), (typed, parse) => {
        const outcome: Result<unknown, string> = parse(typed);
        if (outcome.ok) return;
        expect(outcome.error).toMatch(/^"[^\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]*\.$/u);
      }),
      { numRuns: 1000 },
    );
  });
});
