import { describe, expect, it } from 'vitest';
import { largestPacketBytes } from '../../src/osc/codec.js';
import { slip } from '../../src/osc/framing/slip.js';
import { hex, joined, toHex } from './bytes.js';
import { inPieces, received } from './stream.js';

// RFC 1055 (Romkey 1988): END is octal 300, ESC 333, ESC_END 334, ESC_ESC 335. An END before each packet too:
// RFC 1055, "a simple change ... suggested by Phil Karn", and OSC 1.1 (Freed and Schmeder, NIME 2009).
const cases: readonly [string, string, string][] = [
  ['plain bytes', '2f610000', 'c0 2f610000 c0'],
  ['an END in the packet', '01c002', 'c0 01 dbdc 02 c0'],
  ['an ESC in the packet', '01db02', 'c0 01 dbdd 02 c0'],
  ['what looks escaped', 'dbdc', 'c0 dbdd dc c0'],
  ['ESC_END and ESC_ESC by themselves', 'dcdd', 'c0 dcdd c0'],
  ['END and ESC at both ends', 'c0dbdbc0', 'c0 dbdc dbdd dbdd dbdc c0'],
];

const good = hex('c0 2f610000 c0');

describe('SLIP', () => {
  it.each(cases)('%s', (_, packet, framed) => {
    expect(toHex(slip.frame(hex(packet)))).toBe(toHex(hex(framed)));
    expect(received(slip, [hex(framed)])).toEqual({ packets: [packet], faults: [], lost: false });
  });

  it.each([
    ['no END before', '2f610000 c0', ['2f610000']],
    ['one END between packets', 'c0 2f610000 c0 2f620000 c0', ['2f610000', '2f620000']],
    ['nothing between ENDs', 'c0c0c0 c0 2f610000 c0c0', ['2f610000']],
    ['no END behind yet', 'c0 2f610000', []],
  ])('takes a stream with %s', (_, stream, packets) => {
    expect(received(slip, [hex(stream)])).toEqual({ packets, faults: [], lost: false });
  });

  it.each([
    ['another byte', 'c0 2f db 61 c0'],
    ['the END', 'c0 2f db c0'],
    ['another ESC', 'c0 2f db db dc c0'],
  ])('drops a frame where an ESC is followed by %s, and says so', (_, stream) => {
    const heard = received(slip, inPieces(joined(hex(stream), good), [1]));
    expect(heard.packets).toEqual(['2f610000']);
    expect(heard.faults).toEqual([
      'One SLIP frame was dropped: after an ESC (DB) comes DC or DD, and something else stood there.',
    ]);
  });

  it('drops a frame that is too long, once, and goes on at the next END', () => {
    const long = new Uint8Array(largestPacketBytes * 3).fill(0x2f);
    const heard = received(slip, inPieces(joined(Uint8Array.of(0xc0), long, good), [60_000]));
    expect(heard.packets).toEqual(['2f610000']);
    expect(heard.faults).toEqual([
      'One SLIP frame was dropped: more than the 65507 bytes a packet may have.',
    ]);
  });

  it('tells of many spoilt frames in one sentence', () => {
    expect(received(slip, [hex('db00c0'.repeat(500))]).faults).toEqual([
      '500 SLIP frames were dropped: after an ESC (DB) comes DC or DD, and something else stood there.',
    ]);
  });
});
