import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { joinLengthPrefixed, splitLengthPrefixed } from '../../src/osc/length-prefix.js';
import { hex, joined, toHex } from './bytes.js';

describe('packets in a stream', () => {
  it('stand behind their sizes, high byte first', () => {
    expect(toHex(joinLengthPrefixed([hex('2f610000'), hex('2f622f632f640000')]))).toBe(
      '000000042f610000000000082f622f632f640000',
    );
  });

  it('come back whatever the pieces the stream brings', () => {
    const packets = fc.array(fc.uint8Array({ minLength: 1, maxLength: 40 }), { maxLength: 6 });
    fc.assert(
      fc.property(packets, fc.integer({ min: 1, max: 50 }), (sent, piece) => {
        const stream = joinLengthPrefixed(sent);
        const received: Uint8Array[] = [];
        let waiting: Uint8Array = new Uint8Array();
        for (let at = 0; at < stream.length; at += piece) {
          const split = splitLengthPrefixed(joined(waiting, stream.subarray(at, at + piece)));
          if (!split.ok) throw new Error(split.error);
          received.push(...split.value.packets);
          waiting = split.value.rest;
        }
        expect(waiting).toHaveLength(0);
        expect(received.map(toHex)).toEqual(sent.map(toHex));
      }),
    );
  });

  it('wait for the rest of a size or a packet', () => {
    const bytes = hex('00000004 2f610000 00000008 2f62');
    expect(splitLengthPrefixed(bytes)).toEqual({
      ok: true,
      value: { packets: [hex('2f610000')], rest: hex('00000008 2f62') },
    });
    expect(splitLengthPrefixed(hex('0000'))).toEqual({ ok: true, value: { packets: [], rest: hex('0000') } });
  });

  it.each([
    ['a negative size', 'ffffffff', /-1 bytes at byte 0/],
    ['a size of nothing', '00000000', /0 bytes/],
    ['a size beyond what is taken', '7fffffff 2f61', /2147483647 bytes.*1 to 65507/],
  ])('%s cannot be followed', (_, bytes, reason) => {
    const split = splitLengthPrefixed(hex(bytes));
    expect(split.ok ? 'split' : split.error).toMatch(reason);
  });
});
