import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deepestBundle, frameBundle, immediately, type OscPacket } from '../../src/osc/codec.js';
import type { OscArgument } from '../../src/osc/message.js';
import { message, packet } from './arbitrary.js';
import { ascii, codec, encoded, hex, joined } from './bytes.js';

const one = (argument: OscArgument) => ({ address: '/a', args: [argument] });

describe('what is encoded comes back', () => {
  it.each<[string, OscArgument]>([
    ['the least int32', { type: 'i', value: -(2 ** 31) }],
    ['the greatest int32', { type: 'i', value: 2 ** 31 - 1 }],
    ['a whole number as f', { type: 'f', value: 1 }],
    ['a negative zero', { type: 'd', value: -0 }],
    ['a double', { type: 'd', value: 0.1 }],
    ['an int64 of zero', { type: 'h', value: 0n }],
    ['the least int64', { type: 'h', value: -(2n ** 63n) }],
    ['a time tag of zero', { type: 't', value: 0n }],
    ['the greatest time tag', { type: 't', value: 2n ** 64n - 1n }],
    ['an empty string', { type: 's', value: '' }],
    ['UTF-8', { type: 's', value: 'Zoë 鼓 👩‍🎤' }],
    ['a byte order mark', { type: 's', value: '\uFEFFa' }],
    ['true', { type: 'T' }],
    ['false', { type: 'F' }],
    ['nil', { type: 'N' }],
    ['impulse', { type: 'I' }],
    ...Array.from({ length: 9 }, (_, size): [string, OscArgument] => [
      `a blob of ${size}`,
      { type: 'b', value: Uint8Array.from({ length: size }, (_, index) => 255 - index) },
    ]),
  ])('%s', (_, argument) => {
    expect(codec.decode(encoded(one(argument)))).toEqual({ ok: true, value: one(argument) });
  });

  it('for every message', () => {
    fc.assert(
      fc.property(message, (sent) => {
        expect(codec.decode(encoded(sent))).toEqual({ ok: true, value: sent });
      }),
    );
  });

  it('for every packet, nested bundles and all', () => {
    fc.assert(
      fc.property(packet, (sent) => {
        expect(codec.decode(encoded(sent))).toEqual({ ok: true, value: sent });
      }),
    );
  });

  it('from the middle of a larger buffer, and a blob is a copy of its own', () => {
    const bytes = encoded(one({ type: 'b', value: Uint8Array.of(1, 2, 3) }));
    const surrounded = joined(Uint8Array.of(9, 9, 9, 9), bytes, Uint8Array.of(9, 9, 9, 9));
    const decoded = codec.decode(surrounded.subarray(4, 4 + bytes.length));
    surrounded.fill(0);
    expect(decoded).toEqual({ ok: true, value: one({ type: 'b', value: Uint8Array.of(1, 2, 3) }) });
  });

  it('does not send what lies beside a blob in its buffer', () => {
    const blob = Uint8Array.of(7, 7, 1, 2, 7, 7).subarray(2, 4);
    expect(encoded(one({ type: 'b', value: blob }))).toEqual(
      joined(ascii('/a..,b..'), hex('00000002 01020000')),
    );
  });

  it('takes an address pattern and a message without type tags, as other senders write them', () => {
    expect(codec.decode(ascii('/mix/*/[1-3]....,...'))).toEqual({
      ok: true,
      value: { address: '/mix/*/[1-3]', args: [] },
    });
    expect(codec.decode(ascii('/abc....'))).toEqual({ ok: true, value: { address: '/abc', args: [] } });
  });
});

describe('what cannot be sent is refused', () => {
  it.each<[string, OscPacket, RegExp]>([
    ['an int32 too large', one({ type: 'i', value: 3e9 }), /3000000000 cannot be sent as i/],
    ['a fraction as i', one({ type: 'i', value: 1.5 }), /1.5 cannot be sent as i/],
    ['NaN as i', one({ type: 'i', value: Number.NaN }), /NaN cannot be sent as i/],
    ['NaN as f', one({ type: 'f', value: Number.NaN }), /NaN cannot be sent as f/],
    ['a double beyond floats', one({ type: 'f', value: 1e39 }), /1e\+39 cannot be sent as f/],
    ['a double that a float would lose', one({ type: 'f', value: 1e-60 }), /arrive as 0/],
    ['infinity', one({ type: 'd', value: Number.POSITIVE_INFINITY }), /Infinity cannot be sent as d/],
    ['an int64 too large', one({ type: 'h', value: 2n ** 63n }), /cannot be sent as h/],
    ['a negative time tag', one({ type: 't', value: -1n }), /cannot be sent as t/],
    ['a NUL in a string', one({ type: 's', value: 'a\0b' }), /NUL/],
    ['half a character', one({ type: 's', value: '\uD800' }), /half a character/],
    ['an address without a slash', { address: 'a', args: [] }, /no OSC address/],
    ['an address pattern', { address: '/a/*', args: [] }, /no OSC address/],
    ['an address beyond ASCII', { address: '/ä', args: [] }, /no OSC address/],
    [
      'a bundle due before the one around it',
      { timeTag: 9n, elements: [{ timeTag: 8n, elements: [] }] },
      /due/,
    ],
    ['a time tag of 65 bits', { timeTag: 2n ** 64n, elements: [] }, /time tag/],
    ['more than a datagram holds', one({ type: 'b', value: new Uint8Array(65_508) }), /65507/],
  ])('%s', (_, sent, reason) => {
    const outcome = codec.encode(sent);
    expect(outcome.ok ? 'encoded' : outcome.error).toMatch(reason);
  });

  it('bundles nested too deep', () => {
    const nested = (depth: number): OscPacket => ({
      timeTag: immediately,
      elements: depth === 1 ? [] : [nested(depth - 1)],
    });
    expect(codec.encode(nested(deepestBundle)).ok).toBe(true);
    expect(codec.encode(nested(deepestBundle + 1)).ok).toBe(false);
  });
});

const bundleHead = joined(ascii('#bundle.'), hex('0000000000000001'));

const nestedBytes = (depth: number): Uint8Array =>
  frameBundle(1n, depth === 1 ? [] : [nestedBytes(depth - 1)]);

describe('hostile packets', () => {
  it.each<[string, Uint8Array, RegExp]>([
    ['nothing', new Uint8Array(), /inside the address/],
    ['a size that is no multiple of 4', ascii('/a.'), /3 bytes/],
    ['no NUL anywhere', ascii('/abc'), /no NUL/],
    ['neither message nor bundle', ascii('abc.'), /begins with "\/"/],
    ['an address with a control character', joined(hex('2f1b6100'), ascii(',...')), /printable ASCII/],
    ['an address beyond ASCII', joined(hex('2fc3a400'), ascii(',...')), /printable ASCII/],
    ['padding that is not zero', joined(hex('2f610001'), ascii(',...')), /padding after the address/],
    ['a missing comma', ascii('/a..i...'), /does not begin with a comma/],
    ['type tags without a NUL', ascii('/a..,iii'), /no NUL/],
    ['an unknown tag', ascii('/a..,x..'), /"x", which is not known/],
    ['a tag beyond ASCII', joined(ascii('/a..'), hex('2cc3a400')), /"ä", which is not known/],
    ['an array', ascii('/a..,[i]....'), /"\[", which is not known/],
    ['a truncated integer', ascii('/a..,i..'), /inside argument 1/],
    ['a truncated double', joined(ascii('/a..,d..'), hex('00000000')), /inside argument 1/],
    ['a string without an end', joined(ascii('/a..,s..'), hex('61616161')), /no NUL/],
    ['a string padded with rubbish', joined(ascii('/a..,s..'), hex('61000100')), /padding after argument 1/],
    ['a string that is not UTF-8', joined(ascii('/a..,s..'), hex('c3280000')), /not UTF-8/],
    ['a string of half a character', joined(ascii('/a..,s..'), hex('eda08000')), /not UTF-8/],
    ['a blob without a size', ascii('/a..,b..'), /inside argument 1/],
    [
      'a blob of a negative size',
      joined(ascii('/a..,b..'), hex('ffffffff')),
      /claims -1 bytes, and 0 are left/,
    ],
    ['a blob of a huge size', joined(ascii('/a..,b..'), hex('7fffffff 00000000')), /claims 2147483647 bytes/],
    [
      'a blob one byte too large',
      joined(ascii('/a..,b..'), hex('00000005 01020304')),
      /claims 5 bytes, and 4/,
    ],
    [
      'a blob padded with rubbish',
      joined(ascii('/a..,b..'), hex('00000001 01000001')),
      /padding after argument 1/,
    ],
    ['trailing bytes', joined(ascii('/a..,i..'), hex('00000001 00000000')), /4 bytes follow/],
    ['a bundle of another name', ascii('#bandle.'), /no message, and no bundle/],
    ['a bundle cut in its time tag', bundleHead.subarray(0, 12), /inside its head/],
    ['a bundle cut in a size', joined(bundleHead, hex('0000')), /inside a size/],
    ['an element of size 0', joined(bundleHead, hex('00000000')), /claims 0 bytes/],
    ['an element of a negative size', joined(bundleHead, hex('fffffffc')), /claims -4 bytes/],
    [
      'an element larger than its bundle',
      joined(bundleHead, hex('00000008'), ascii('/a..')),
      /claims 8 bytes; 4/,
    ],
    ['an element of odd size', joined(bundleHead, hex('00000003'), hex('2f6100')), /multiples of 4/],
    ['rubbish inside a bundle', joined(bundleHead, hex('00000004'), ascii('abc.')), /begins with "\/"/],
    ['bundles nested too deep', nestedBytes(deepestBundle + 1), /more than 8 deep/],
    ['bundles nested absurdly deep', nestedBytes(2000), /more than 8 deep/],
    ['more than a datagram holds', new Uint8Array(65_508), /65508 bytes/],
  ])('%s', (_, bytes, reason) => {
    const outcome = codec.decode(bytes);
    expect(outcome.ok ? 'decoded' : outcome.error).toMatch(reason);
  });

  it('a nested bundle does not swallow its siblings', () => {
    const inner = frameBundle(1n, [ascii('/a..,...')]);
    const outcome = codec.decode(frameBundle(1n, [inner, ascii('/b..,...')]));
    expect(outcome).toEqual({
      ok: true,
      value: {
        timeTag: 1n,
        elements: [
          { timeTag: 1n, elements: [{ address: '/a', args: [] }] },
          { address: '/b', args: [] },
        ],
      },
    });
  });

  it('random bytes never throw', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        expect(() => codec.decode(bytes)).not.toThrow();
      }),
      { numRuns: 2000 },
    );
  });

  it('mutated packets never throw, and are read only inside their own bytes', () => {
    const change = fc.tuple(fc.nat(), fc.integer({ min: 0, max: 255 }));
    const mutated = fc.tuple(
      packet,
      fc.array(change, { maxLength: 4 }),
      fc.nat(),
      fc.uint8Array({ maxLength: 8 }),
    );
    fc.assert(
      fc.property(mutated, ([sent, changes, cut, tail]) => {
        const whole = joined(encoded(sent), tail);
        for (const [at, byte] of changes) whole[at % whole.length] = byte;
        const bytes = whole.subarray(0, whole.length - (cut % 5));
        // What surrounds the packet must not matter.
        const places = [0x00, 0x2f, 0xff].map((filler) => {
          const buffer = new Uint8Array(bytes.length + 32).fill(filler);
          buffer.set(bytes, 16);
          return codec.decode(buffer.subarray(16, 16 + bytes.length));
        });
        expect(places[1]).toEqual(places[0]);
        expect(places[2]).toEqual(places[0]);
      }),
      { numRuns: 1000 },
    );
  });
});
