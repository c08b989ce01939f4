import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { OscRead, Target } from '../../src/model/target.js';
import { askings, askingWords, canBeAsked, questionFor, questionKey } from '../../src/osc/asking.js';
import { makeOscCodec } from '../../src/osc/codec.js';
import type { OscMessage } from '../../src/osc/message.js';
import { slotParameters } from '../../src/osc/slot-parameters.js';
import { shippedDesk } from '../live/recipe-on.js';
import { askedOf } from '../standin/asked.js';
import { toHex } from './bytes.js';

const codec = makeOscCodec();

const gain = { name: 'gain', place: { output: 3, slot: '2' }, address: '/mix/3/filter/2/gain' } as const;
const name = { name: 'outputName', place: { output: 3 }, address: '/mix/3/name' } as const;

const at = (address: string): OscMessage => ({ address, args: [] });

/** How a target is asked, what is asked for, the message that asks, and where the answer comes. */
type Row = readonly [OscRead, typeof gain | typeof name, OscMessage, string];

const inParts: OscRead = {
  by: 'address',
  address: '/ask{address}',
  addresses: { gain: '/state/{slot:03}/{output:02}/level' },
  answeredAt: 'asked-address',
};

const rows: readonly Row[] = [
  ['same-address-without-arguments', gain, at('/mix/3/filter/2/gain'), '/mix/3/filter/2/gain'],
  ['same-address-without-arguments', name, at('/mix/3/name'), '/mix/3/name'],
  [
    { by: 'address', address: '/ask{address}', answeredAt: 'asked-address' },
    gain,
    at('/ask/mix/3/filter/2/gain'),
    '/ask/mix/3/filter/2/gain',
  ],
  [
    { by: 'address', address: '/ask{address}', answeredAt: 'written-address' },
    gain,
    at('/ask/mix/3/filter/2/gain'),
    '/mix/3/filter/2/gain',
  ],
  [
    { by: 'address', address: '/a/b{address}.now/please', answeredAt: 'written-address' },
    name,
    at('/a/b/mix/3/name.now/please'),
    '/mix/3/name',
  ],
  // What a string replacement would take for a pattern of its own.
  [
    { by: 'address', address: "/$&$'{address}", answeredAt: 'written-address' },
    name,
    at("/$&$'/mix/3/name"),
    '/mix/3/name',
  ],
  [inParts, gain, at('/state/002/03/level'), '/state/002/03/level'],
  [inParts, name, at('/ask/mix/3/name'), '/ask/mix/3/name'],
  [
    { by: 'argument', argument: { type: 's', text: '?' } },
    gain,
    { address: '/mix/3/filter/2/gain', args: [{ type: 's', value: '?' }] },
    '/mix/3/filter/2/gain',
  ],
  [
    { by: 'argument', argument: { type: 'N' } },
    name,
    { address: '/mix/3/name', args: [{ type: 'N' }] },
    '/mix/3/name',
  ],
  [
    { by: 'argument', argument: { type: 'I' } },
    gain,
    { address: '/mix/3/filter/2/gain', args: [{ type: 'I' }] },
    '/mix/3/filter/2/gain',
  ],
];

describe('what asks for a value', () => {
  it.each(rows)('%j: $name', (read, value, message, answerAddress) => {
    expect(questionFor({ read }, value)).toEqual({ ok: true, value: { message, answerAddress } });
  });

  it('survives the wire', () => {
    for (const [read, value, message] of rows) {
      const question = questionFor({ read }, value);
      const bytes = question.ok && question.value ? codec.encode(question.value.message) : null;
      expect(bytes?.ok && codec.decode(bytes.value)).toEqual({ ok: true, value: message });
    }
  });

  // OpenSoundControl 1.0, "OSC Type Tag": "/a" and ",s" "?", ",N" and ",I", each padded with NULs to four bytes.
  it.each<[OscRead, string]>([
    ['same-address-without-arguments', '2f610000 2c000000'],
    [{ by: 'argument', argument: { type: 's', text: '?' } }, '2f610000 2c730000 3f000000'],
    [{ by: 'argument', argument: { type: 'N' } }, '2f610000 2c4e0000'],
    [{ by: 'argument', argument: { type: 'I' } }, '2f610000 2c490000'],
    [{ by: 'address', address: '/b{address}', answeredAt: 'asked-address' }, '2f622f61 00000000 2c000000'],
  ])('%j is these bytes', (read, bytes) => {
    const question = questionFor({ read }, { ...name, address: '/a' });
    const encoded = question.ok && question.value ? codec.encode(question.value.message) : null;
    expect(encoded?.ok && toHex(encoded.value)).toBe(bytes.replaceAll(' ', ''));
  });

  it('is nothing where a desk answers nothing', () => {
    expect(questionFor({ read: 'none' }, gain)).toEqual({ ok: true, value: null });
  });

  it.each<[string, OscRead, RegExp]>([
    [
      'no address for it',
      { by: 'address', addresses: {}, answeredAt: 'asked-address' },
      /at which address gain/,
    ],
    [
      'an address that is none',
      { by: 'address', address: '/ask/{address}', answeredAt: 'asked-address' },
      /no OSC address/,
    ],
    [
      'a text that cannot be sent',
      { by: 'argument', argument: { type: 's', text: 'a\0' } },
      /NUL ends an OSC string/,
    ],
  ])('is refused: %s', (_, read, why) => {
    expect(questionFor({ read }, gain)).toMatchObject({ ok: false, error: expect.stringMatching(why) });
  });

  it('is told in words for every way there is', () => {
    const reads: readonly OscRead[] = ['none', ...rows.map(([read]) => read)];
    const names = new Set(reads.map((read) => (typeof read === 'string' ? read : read.by)));
    expect([...names].sort()).toEqual(askings.map((each) => each.name).sort());
    for (const read of reads) expect(askingWords({ read })).toMatch(/^[a-z].*[a-z"]$/);
    expect(askingWords({ read: inParts })).toContain('"/ask{address}" or an address of its own');
  });
});

describe('whether a desk can be asked', () => {
  it('is so for all but those that answer nothing, or that OSC does not reach', () => {
    const desk = (read: OscRead) => canBeAsked({ osc: { read } } as Target);
    expect(rows.every(([read]) => desk(read))).toBe(true);
    expect([desk('none'), canBeAsked({})]).toEqual([false, false]);
  });
});

describe('the key of a question', () => {
  const argument = fc.oneof(
    fc.record({ type: fc.constant('s' as const), value: fc.string({ maxLength: 4 }) }),
    fc.record({ type: fc.constantFrom('i' as const, 'f' as const), value: fc.constantFrom(0, 1, 2) }),
    fc.record({ type: fc.constantFrom('N' as const, 'I' as const) }),
  );
  const message = fc.record({
    address: fc.constantFrom('/a', '/a/b', '/a,b'),
    args: fc.array(argument, { maxLength: 2 }),
  });

  it('is the same for the same message, and for no other', () => {
    fc.assert(
      fc.property(message, message, (one, other) => {
        const isSame = JSON.stringify(one) === JSON.stringify(other);
        expect(questionKey(one) === questionKey(other)).toBe(isSame);
      }),
    );
  });
});

describe('the shipped targets', () => {
  it.each(['log-179', 'floats', 'octave-6', 'two-legs', 'rate-96', 'cut-section', 'lr-24', 'controller-128'])(
    '%s: no two values share a question or an answer',
    async (id) => {
      const desk = await shippedDesk(id);
      const questions = [1, 2].flatMap((output) =>
        desk.slots.flatMap((slot) => {
          const parameters = slotParameters(slot, output, desk);
          if (!parameters.ok) throw new Error(JSON.stringify(parameters.error));
          return parameters.value;
        }),
      );
      const asked = questions.flatMap(({ address, question }) => (question ? [{ address, question }] : []));
      expect(asked).toHaveLength(id === 'controller-128' ? 0 : questions.length);
      const keys = asked.map(({ question }) => questionKey(question.message));
      expect(new Set(keys).size).toBe(keys.length);
      expect(new Set(asked.map(({ question }) => question.answerAddress)).size).toBe(keys.length);
      for (const { address, question } of asked) expect(question).toEqual(askedOf(desk.target, address));
    },
  );
});
