import { fail, ok, type Result } from '../units/result.js';
import { largestPacketBytes } from './bundle.js';

/** Packets for a stream, each behind its size as a big-endian int32 (OpenSoundControl 1.0, "OSC Packets"). */
export const joinLengthPrefixed = (packets: readonly Uint8Array[]): Uint8Array => {
  const bytes = new Uint8Array(packets.reduce((sum, packet) => sum + 4 + packet.length, 0));
  const view = new DataView(bytes.buffer);
  let at = 0;
  for (const packet of packets) {
    view.setInt32(at, packet.length);
    bytes.set(packet, at + 4);
    at += 4 + packet.length;
  }
  return bytes;
};

/** The whole packets at the head of a stream, and the bytes of the one still to come. */
export interface LengthPrefixedSplit {
  readonly packets: readonly Uint8Array[];
  readonly rest: Uint8Array;
}

/**
 * Splits what a stream has brought so far; prepend `rest` to what comes next. A size below 1 or above
 * `limitBytes` is an error: the stream cannot be followed from there.
 */
export const splitLengthPrefixed = (
  bytes: Uint8Array,
  limitBytes: number = largestPacketBytes,
): Result<LengthPrefixedSplit, string> => {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const packets: Uint8Array[] = [];
  let at = 0;
  while (at + 4 <= bytes.length) {
    const size = view.getInt32(at);
    if (size < 1 || size > limitBytes) {
      return fail(
        `The stream announces a packet of ${size} bytes at byte ${at}; 1 to ${limitBytes} are taken.`,
      );
    }
    if (at + 4 + size > bytes.length) break;
    packets.push(bytes.subarray(at + 4, at + 4 + size));
    at += 4 + size;
  }
  return ok({ packets, rest: bytes.subarray(at) });
};
