import { describe, expect, it } from 'vitest';
import type { Quantiser, QuantiserKind } from '../../src/quantisers/quantiser.js';
import { checkQuantiser, makeQuantiser, quantiserKinds } from '../../src/quantisers/registry.js';
import { ok } from '../../src/units/result.js';

const grid = (count: number, valueAt: (index: number) => unknown): Quantiser =>
  ({
    count,
    valueAt: (index: number) => {
      if (!(Number.isInteger(index) && index >= 0 && index < count)) throw new RangeError('off the grid');
      return valueAt(index);
    },
  }) as unknown as Quantiser;

const kindOf = (create: () => unknown): QuantiserKind =>
  ({ kind: 'spiral', summary: 'for this test', create }) as unknown as QuantiserKind;

const makeSpiral = (create: () => unknown) =>
  makeQuantiser({ kind: 'spiral' }, [...quantiserKinds, kindOf(create)]);

describe('the registry', () => {
  it('names every kind once, and says what it is', () => {
    const names = quantiserKinds.map(({ kind }) => kind);
    expect(names).toEqual([
      'linear',
      'geometric',
      'ratio-steps',
      'octave-fraction',
      'preferred-numbers',
      'significant-digits',
      'piecewise-linear',
      'table',
      'continuous',
    ]);
    for (const { summary } of quantiserKinds) expect(summary).toMatch(/: \w+/);
  });

  it.each([
    ['octave-fracton', '"octave-fracton" is not a kind of grid known here; did you mean "octave-fraction"? '],
    ['Linear', 'did you mean "linear"?'],
    ['spiral', '"spiral" is not a kind of grid known here. The kinds are linear, '],
    ['constructor', '"constructor" is not a kind of grid known here. The kinds are linear, '],
    ['x\u001b[2J', '"x\\u{1b}[2J" is not a kind'],
    ['x'.repeat(100_000), '…" is not a kind of grid known here. '],
  ])('an unknown kind, case %#', (kind, message) => {
    const made = makeQuantiser({ kind });
    expect(made).toMatchObject({ ok: false, error: expect.stringContaining(message) });
    expect(made).toMatchObject({ ok: false, error: expect.stringContaining('the module that defines it') });
  });

  it('uses a kind of the user’s own', () => {
    const made = makeSpiral(() => ok(grid(3, (index) => index * index)));
    expect(made.ok && made.value.count).toBe(3);
  });

  it('offers a kind of the user’s own for a slip of the fingers', () => {
    const kinds = [...quantiserKinds, kindOf(() => ok(grid(1, () => 1)))];
    expect(makeQuantiser({ kind: 'spirl' }, kinds)).toMatchObject({
      ok: false,
      error: expect.stringContaining('did you mean "spiral"?'),
    });
  });

  it.each<readonly [string, () => unknown, string]>([
    [
      'throws',
      () => {
        throw new Error('boom\u0007');
      },
      'create fails with "boom\\u{7}".',
    ],
    ['returns nothing', () => undefined, 'create fails with '],
    ['returns no grid', () => ok(null), 'the grid has no valueAt function.'],
    [
      'makes a falling grid',
      () => ok(grid(2, (index) => -index - 1)),
      'valueAt(1) is -2, not above valueAt(0), -1;',
    ],
  ])('a kind of the user’s own that %s is told of, and not used', (_, create, message) => {
    expect(makeSpiral(create)).toMatchObject({
      ok: false,
      error: expect.stringContaining(`the module that defines "spiral" is at fault: ${message}`),
    });
  });

  it('passes on why such a kind refuses, safe to print', () => {
    expect(makeSpiral(() => ({ ok: false, error: '"turns" is missing\u001b[2J' }))).toEqual({
      ok: false,
      error: '"turns" is missing\\u{1b}[2J',
    });
  });
});

describe('checkQuantiser', () => {
  it('finds nothing wrong with a good grid', () => {
    expect(checkQuantiser(grid(1, () => 5))).toBeNull();
    expect(checkQuantiser(grid(10_000, (index) => index))).toBeNull();
    expect(checkQuantiser(grid(2 ** 32, (index) => index / 7))).toBeNull();
  });

  let calls = 0;
  it.each<readonly [string, unknown, string]>([
    ['null', null, 'has no valueAt function'],
    ['an object without valueAt', { count: 3 }, 'has no valueAt function'],
    ['a count of 0', grid(0, () => 1), 'count must be a whole number from 1 to 4294967296, but is 0'],
    ['a broken count', grid(1.5, () => 1), 'but is 1.5'],
    ['a count too large', grid(2 ** 32 + 1, (index) => index), 'but is 4294967297'],
    ['a count in text', { ...grid(3, (index) => index), count: '3' }, 'but is "3"'],
    ['values that stand still', grid(3, () => 5), 'valueAt(1) is 5, not above valueAt(0), 5'],
    ['one value that falls', grid(9000, (index) => (index === 8999 ? 0 : index)), 'valueAt(8999) is 0'],
    [
      'a top that falls in a large grid',
      grid(1e6, (index) => (index === 999_999 ? 0 : index)),
      'valueAt(999999) is 0',
    ],
    ['a value that is no number', grid(3, (index) => `${index}`), 'valueAt(0) is "0"'],
    [
      'a value that is not finite',
      grid(3, (index) => (index === 2 ? Number.POSITIVE_INFINITY : index)),
      'is Infinity',
    ],
    ['a negative zero', grid(3, (index) => (index === 1 ? -0 : index - 1)), 'valueAt(1) is -0'],
    ['values that change', grid(3, () => calls++), 'gives another value when asked again'],
    ['a grid that takes any step', { count: 3, valueAt: (index: number) => index }, 'valueAt(-1) must throw'],
    [
      'a grid that takes broken steps',
      {
        count: 3,
        valueAt: (index: number) => {
          if (index < 0 || index > 2) throw new RangeError('off');
          return index;
        },
      },
      'valueAt(0.5) must throw',
    ],
    [
      'a grid that throws on a good step',
      grid(3, () => {
        throw new Error('boom');
      }),
      'the grid fails when asked for its steps: "boom"',
    ],
  ])('tells of %s', (_, bad, message) => {
    expect(checkQuantiser(bad as Quantiser)).toContain(message);
  });
});
