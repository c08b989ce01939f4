import { largestPacketBytes } from '../codec.js';
import type { Framing, StreamSplitter } from './framing.js';

const sizeBytes = 4;

/** Packets for a stream, each behind its size as a big-endian int32 (OpenSoundControl 1.0, "OSC Packets"). */
export const joinLengthPrefixed = (packets: readonly Uint8Array[]): Uint8Array => {
  const bytes = new Uint8Array(packets.reduce((sum, packet) => sum + sizeBytes + packet.length, 0));
  const view = new DataView(bytes.buffer);
  let at = 0;
  for (const packet of packets) {
    view.setInt32(at, packet.length);
    bytes.set(packet, at + sizeBytes);
    at += sizeBytes + packet.length;
  }
  return bytes;
};

const lostAt = (size: number): string =>
  `The stream announces a packet of ${size} bytes, and 1 to ${largestPacketBytes} are taken: it cannot be followed from there.`;

const splitter = (): StreamSplitter => {
  const size = new DataView(new ArrayBuffer(sizeBytes));
  let sizeHeld = 0;
  /** The packet that is coming in, in its full size, once that is known. */
  let packet: Uint8Array | null = null;
  let held = 0;
  let lost = false;

  const push: StreamSplitter['push'] = (chunk) => {
    const packets: Uint8Array[] = [];
    const faults: string[] = [];
    let at = 0;
    while (at < chunk.length && !lost) {
      if (packet === null) {
        size.setUint8(sizeHeld++, chunk[at++] ?? 0);
        if (sizeHeld < sizeBytes) continue;
        const announced = size.getInt32(0);
        lost = announced < 1 || announced > largestPacketBytes;
        if (lost) faults.push(lostAt(announced));
        else packet = new Uint8Array(announced);
        sizeHeld = 0;
        held = 0;
        continue;
      }
      const piece = chunk.subarray(at, at + packet.length - held);
      packet.set(piece, held);
      held += piece.length;
      at += piece.length;
      if (held === packet.length) {
        packets.push(packet);
        packet = null;
      }
    }
    return { packets, faults, lost };
  };
  return { push };
};

/** The size of each packet before it (OpenSoundControl 1.0, "OSC Packets"). A size that cannot be ends the stream. */
export const lengthPrefix: Framing = {
  transport: 'tcp-length-prefix',
  frame: (packet) => joinLengthPrefixed([packet]),
  splitter,
};
