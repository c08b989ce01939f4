import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { largestPacketBytes } from '../../src/osc/codec.js';
import type { Framing } from '../../src/osc/framing/framing.js';
import { lengthPrefix } from '../../src/osc/framing/length-prefix.js';
import { framingOf, framings } from '../../src/osc/framing/registry.js';
import { slip } from '../../src/osc/framing/slip.js';
import { joined, toHex } from './bytes.js';
import { inPieces, received } from './stream.js';

/** Rich in the bytes that SLIP treats apart. */
const byte = fc.oneof(fc.constantFrom(0xc0, 0xdb, 0xdc, 0xdd, 0), fc.integer({ min: 0, max: 255 }));
const bytes = (minLength: number) =>
  fc.array(byte, { minLength, maxLength: 40 }).map((list) => Uint8Array.from(list));
const packets = fc.array(bytes(1), { maxLength: 6 });
const pieces = fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 1, maxLength: 20 });

describe.each(framings.map((framing) => [framing.transport, framing] as const))('%s', (_, framing) => {
  it('gives back what was framed, whatever the pieces the stream brings', () => {
    fc.assert(
      fc.property(packets, pieces, (sent, sizes) => {
        const stream = joined(...sent.map(framing.frame));
        expect(received(framing, inPieces(stream, sizes))).toEqual({
          packets: sent.map(toHex),
          faults: [],
          lost: false,
        });
      }),
    );
  });

  it('carries the largest packet, byte by byte too', () => {
    const packet = new Uint8Array(largestPacketBytes).fill(0xc0);
    const stream = framing.frame(packet);
    expect(received(framing, [stream]).packets).toEqual([toHex(packet)]);
    expect(received(framing, inPieces(stream, [1])).packets).toEqual([toHex(packet)]);
  });

  it('gives packets that stay as they are when the piece they came in is used again', () => {
    const piece = framing.frame(Uint8Array.of(1, 2, 3, 4));
    const [packet] = framing.splitter().push(piece).packets;
    piece.fill(0);
    expect(packet).toEqual(Uint8Array.of(1, 2, 3, 4));
  });

  it('keeps streams apart', () => {
    const [one, other] = [framing.splitter(), framing.splitter()];
    const stream = framing.frame(Uint8Array.of(47, 97, 0, 0));
    one.push(stream.subarray(0, 3));
    expect(other.push(stream).packets).toEqual([Uint8Array.of(47, 97, 0, 0)]);
    expect(one.push(stream.subarray(3)).packets).toEqual([Uint8Array.of(47, 97, 0, 0)]);
  });
});

describe('whatever a stream brings', () => {
  it.each<[string, Framing]>([
    ['SLIP', slip],
    ['length prefixes', lengthPrefix],
  ])('%s: nothing throws, and no packet is larger than what came', (_, framing) => {
    fc.assert(
      fc.property(fc.array(bytes(0), { maxLength: 8 }), (chunks) => {
        const splitter = framing.splitter();
        let came = 0;
        let taken = 0;
        for (const chunk of chunks) {
          came += chunk.length;
          const split = splitter.push(chunk);
          taken += split.packets.reduce((sum, packet) => sum + packet.length, 0);
          expect(split.packets.every((packet) => packet.length > 0)).toBe(true);
          expect(split.faults.length).toBeLessThanOrEqual(2);
        }
        expect(taken).toBeLessThanOrEqual(came);
      }),
    );
  });

  it('SLIP finds its way back after any rubbish', () => {
    fc.assert(
      fc.property(bytes(0), packets, pieces, (rubbish, sent, sizes) => {
        const stream = joined(rubbish, ...sent.map(slip.frame));
        const heard = received(slip, inPieces(stream, sizes));
        expect(heard.lost).toBe(false);
        expect(heard.packets.slice(heard.packets.length - sent.length)).toEqual(sent.map(toHex));
      }),
    );
  });
});

describe('framings', () => {
  it('are one for each transport that is a stream', () => {
    expect(framings.map(({ transport }) => transport).sort()).toEqual(['tcp-length-prefix', 'tcp-slip']);
    expect(framingOf('tcp-slip')).toBe(slip);
    expect(framingOf('tcp-length-prefix')).toBe(lengthPrefix);
  });
});
