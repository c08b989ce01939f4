import { describe, expect, it } from 'vitest';
import { joinLengthPrefixed, lengthPrefix } from '../../src/osc/framing/length-prefix.js';
import { hex, toHex } from './bytes.js';
import { inPieces, received } from './stream.js';

// OpenSoundControl Specification 1.0 (Wright 2002), "OSC Packets": "an int32 giving the size of the first packet,
// followed by the contents of the first packet", and so on; "Atomic data types": big-endian.
describe('length prefixes', () => {
  it('stand before each packet, high byte first', () => {
    expect(toHex(lengthPrefix.frame(hex('2f610000')))).toBe('000000042f610000');
    expect(toHex(joinLengthPrefixed([hex('2f610000'), hex('2f622f632f640000')]))).toBe(
      '000000042f610000000000082f622f632f640000',
    );
  });

  it('wait for the rest of a size or a packet', () => {
    const splitter = lengthPrefix.splitter();
    const push = (text: string) => splitter.push(hex(text)).packets.map(toHex);
    expect(push('00000004 2f610000 00000008 2f62')).toEqual(['2f610000']);
    expect(push('2f632f640000 0000')).toEqual(['2f622f632f640000']);
    expect(push('0004')).toEqual([]);
    expect(push('2f650000')).toEqual(['2f650000']);
  });

  it.each([
    ['a negative size', 'ffffffff', /of -1 bytes/],
    ['a size of nothing', '00000000', /of 0 bytes/],
    ['a size beyond what is taken', '7fffffff 2f61', /of 2147483647 bytes, and 1 to 65507 are taken/],
    ['a size one beyond what is taken', '0000ffe4', /of 65508 bytes/],
    ['text', '2f612c69 66', /of 794897513 bytes/],
  ])('%s cannot be followed; what came before it counts', (_, bytes, reason) => {
    const heard = received(lengthPrefix, inPieces(hex(`00000004 2f610000 ${bytes}`), [1]));
    expect(heard.packets).toEqual(['2f610000']);
    expect(heard.faults).toHaveLength(1);
    expect(heard.faults[0]).toMatch(reason);
    expect(heard.lost).toBe(true);
  });

  it('stay lost, whatever comes', () => {
    const splitter = lengthPrefix.splitter();
    splitter.push(hex('ffffffff'));
    expect(splitter.push(hex('00000004 2f610000'))).toEqual({ packets: [], faults: [], lost: true });
  });
});
