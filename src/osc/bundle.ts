import { fail, ok, type Result } from '../units/result.js';
import type { OscMessage } from './message.js';

/** Messages (and bundles) that take effect together, at a time. */
export interface OscBundle {
  /** NTP time stamp as 64 bits: seconds since 1900 above, fraction of a second below. */
  readonly timeTag: bigint;
  readonly elements: readonly OscPacket[];
}

export type OscPacket = OscMessage | OscBundle;

/** The time tag that means at once: 63 zero bits, then a one (OpenSoundControl 1.0, "Time Tags"). */
export const immediately = 1n;

/** The largest payload of a UDP datagram over IPv4: 65535 bytes less both headers (RFC 768, RFC 791). */
export const largestPacketBytes = 65_507;

/** How many bundles may stand inside each other. */
export const deepestBundle = 8;

export const isBundle = (packet: OscPacket): packet is OscBundle => 'elements' in packet;

/** The messages of a packet, those of bundles in their order, whatever their time tags. */
export const messagesIn = (packet: OscPacket): readonly OscMessage[] =>
  isBundle(packet) ? packet.elements.flatMap(messagesIn) : [packet];

/** `#bundle` and its NUL. */
const header = [0x23, 0x62, 0x75, 0x6e, 0x64, 0x6c, 0x65, 0x00];
const headBytes = 16;

/** Whether bytes claim to be a bundle rather than a message. */
export const looksLikeBundle = (bytes: Uint8Array): boolean => bytes[0] === header[0];

/** Frames encoded elements as a bundle (OpenSoundControl 1.0, "OSC Bundles"). */
export const frameBundle = (timeTag: bigint, elements: readonly Uint8Array[]): Uint8Array => {
  const size = elements.reduce((sum, element) => sum + 4 + element.length, headBytes);
  const bytes = new Uint8Array(size);
  const view = new DataView(bytes.buffer);
  bytes.set(header);
  view.setBigUint64(header.length, timeTag);
  let at = headBytes;
  for (const element of elements) {
    view.setInt32(at, element.length);
    bytes.set(element, at + 4);
    at += 4 + element.length;
  }
  return bytes;
};

/** Takes a bundle apart; its elements are views of the same bytes, not yet decoded. */
export const unframeBundle = (
  bytes: Uint8Array,
): Result<{ readonly timeTag: bigint; readonly elements: readonly Uint8Array[] }, string> => {
  if (header.some((byte, index) => bytes[index] !== byte))
    return fail('The packet is no message, and no bundle.');
  if (bytes.length < headBytes) return fail(`The bundle ends inside its head, at byte ${bytes.length}.`);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const elements: Uint8Array[] = [];
  let at = headBytes;
  while (at < bytes.length) {
    if (at + 4 > bytes.length) return fail(`The bundle ends inside a size, at byte ${bytes.length}.`);
    const size = view.getInt32(at);
    const rest = bytes.length - at - 4;
    if (size <= 0 || size % 4 !== 0 || size > rest) {
      return fail(
        `Element ${elements.length + 1} of the bundle claims ${size} bytes; ${rest} are left, and sizes are multiples of 4.`,
      );
    }
    elements.push(bytes.subarray(at + 4, at + 4 + size));
    at += 4 + size;
  }
  return ok({ timeTag: view.getBigUint64(header.length), elements });
};
