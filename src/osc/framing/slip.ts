import { largestPacketBytes } from '../codec.js';
import type { Framing, StreamSplitter } from './framing.js';

/** The four bytes of RFC 1055, there in octal: 0300, 0333, 0334, 0335. */
const endByte = 0xc0;
const escapeByte = 0xdb;
const escapedEnd = 0xdc;
const escapedEscape = 0xdd;

const frame = (packet: Uint8Array): Uint8Array => {
  const special = packet.reduce(
    (count, byte) => count + (byte === endByte || byte === escapeByte ? 1 : 0),
    0,
  );
  const bytes = new Uint8Array(packet.length + special + 2);
  let at = 0;
  bytes[at++] = endByte;
  for (const byte of packet) {
    if (byte === endByte || byte === escapeByte) bytes[at++] = escapeByte;
    bytes[at++] = byte === endByte ? escapedEnd : byte === escapeByte ? escapedEscape : byte;
  }
  bytes[at] = endByte;
  return bytes;
};

const dropped = (frames: number, why: string): readonly string[] => {
  if (frames === 0) return [];
  return [`${frames === 1 ? 'One SLIP frame was' : `${frames} SLIP frames were`} dropped: ${why}.`];
};

const splitter = (): StreamSplitter => {
  let held = new Uint8Array(256);
  let length = 0;
  let isEscaped = false;
  /** Whether the rest of this frame is dropped, up to the next END. */
  let isSpoilt = false;

  const grow = (): void => {
    const larger = new Uint8Array(Math.min(held.length * 2, largestPacketBytes));
    larger.set(held);
    held = larger;
  };

  const push: StreamSplitter['push'] = (chunk) => {
    const packets: Uint8Array[] = [];
    let oversize = 0;
    let badEscapes = 0;
    const spoil = (): void => {
      isSpoilt = true;
      length = 0;
    };
    for (const byte of chunk) {
      if (isEscaped && !isSpoilt && byte !== escapedEnd && byte !== escapedEscape) {
        badEscapes++;
        spoil();
      }
      if (byte === endByte) {
        if (length > 0) packets.push(held.slice(0, length));
        length = 0;
        isSpoilt = false;
        isEscaped = false;
      } else if (isSpoilt) {
        isEscaped = false;
      } else if (byte === escapeByte) {
        isEscaped = true;
      } else if (length === largestPacketBytes) {
        oversize++;
        spoil();
      } else {
        if (length === held.length) grow();
        held[length++] = !isEscaped ? byte : byte === escapedEnd ? endByte : escapeByte;
        isEscaped = false;
      }
    }
    const faults = [
      ...dropped(oversize, `more than the ${largestPacketBytes} bytes a packet may have`),
      ...dropped(badEscapes, 'after an ESC (DB) comes DC or DD, and something else stood there'),
    ];
    return { packets, faults, lost: false };
  };
  return { push };
};

/**
 * SLIP (RFC 1055) with an END before and behind each packet, as OSC 1.1 asks for on streams (Freed and Schmeder,
 * "Features and Future of Open Sound Control version 1.1", NIME 2009). Empty frames are no packets; a frame that
 * is spoilt is dropped, and the next END begins anew.
 */
export const slip: Framing = { transport: 'tcp-slip', frame, splitter };
