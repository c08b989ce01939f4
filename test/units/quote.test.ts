import { describe, expect, it } from 'vitest';
import { printable, quote } from '../../src/units/quote.js';

const nested = (depth: number): unknown => {
  let value: unknown = 0;
  for (let level = 0; level < depth; level++) value = [value];
  return value;
};

const circular: { self?: unknown } = {};
circular.self = circular;

describe('quote', () => {
  it.each([
    ['plain', '"plain"'],
    ['bell\u0007', '"bell\\u{7}"'],
    ['\u009b31m', '"\\u{9b}31m"'],
    ['a\u2028b', '"a\\u{2028}b"'],
    ['Pünktchen 🎧', '"Pünktchen 🎧"'],
    [19.5, '19.5'],
    [-0, '-0'],
    [Number.NaN, 'NaN'],
    [Number.POSITIVE_INFINITY, 'Infinity'],
    [null, 'null'],
    [undefined, 'undefined'],
    [true, 'true'],
    [12n, 'bigint'],
    [[1, 'a'], '[1,"a"]'],
    [{ a: 1 }, '{"a":1}'],
    [circular, 'object'],
    [nested(1e5), 'object'],
  ])('case %#', (value, shown) => {
    expect(quote(value)).toBe(shown);
  });

  it('cuts what is long, and no escape in half', () => {
    expect(quote('a'.repeat(61))).toBe(`"${'a'.repeat(60)}…"`);
    expect(quote('\u0007'.repeat(1000))).toBe(`"${'\\u{7}'.repeat(60)}…"`);
    expect(quote(Array(1000).fill(1))).toMatch(/^\[(1,){29}1…$/);
  });
});

describe('printable', () => {
  it('leaves nothing that a terminal obeys', () => {
    expect(printable('\u001b]0;x\u0007\u202e\u200f\ufeff')).toBe(
      '\\u{1b}]0;x\\u{7}\\u{202e}\\u{200f}\\u{feff}',
    );
  });
});
