import { fail, ok, type Result } from '../units/result.js';
import type { OscMessage } from './message.js';
import { decodeMessage, encodeMessage, type WireMessage, wireMessage } from './message-codec.js';

/** Messages (and bundles) that take effect together, at a time. */
export interface OscBundle {
  /** NTP time stamp as 64 bits: seconds since 1900 above, fraction of a second below. */
  readonly timeTag: bigint;
  readonly elements: readonly OscPacket[];
}

/** What one datagram, or one packet of a stream, carries. */
export type OscPacket = OscMessage | OscBundle;

/** The time tag that means at once: 63 zero bits, then a one (OpenSoundControl 1.0, "Time Tags"). */
export const immediately = 1n;

/** The largest payload of a UDP datagram over IPv4: 65535 bytes less both headers (RFC 768, RFC 791). */
export const largestPacketBytes = 65_507;

/** How many bundles may stand inside each other. */
export const deepestBundle = 8;

/** Whether a packet is a bundle. */
export const isBundle = (packet: OscPacket): packet is OscBundle => 'elements' in packet;

/** The messages of a packet, those of bundles in their order, whatever their time tags. */
export const messagesIn = (packet: OscPacket): readonly OscMessage[] =>
  isBundle(packet) ? packet.elements.flatMap(messagesIn) : [packet];

/** `#bundle` and its NUL. */
const header = [0x23, 0x62, 0x75, 0x6e, 0x64, 0x6c, 0x65, 0x00];
const headBytes = 16;

/** Whether bytes claim to be a bundle rather than a message. */
const looksLikeBundle = (bytes: Uint8Array): boolean => bytes[0] === header[0];

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
const unframeBundle = (
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

/** OSC 1.0 packets to bytes and back. Errors are sentences; no input makes either of them throw. */
export interface OscCodec {
  encode(packet: OscPacket): Result<Uint8Array, string>;
  decode(bytes: Uint8Array): Result<OscPacket, string>;
}

const tooDeep = `Bundles stand more than ${deepestBundle} deep inside each other.`;

const tooLarge = (bytes: number): string | null =>
  bytes > largestPacketBytes
    ? `The packet has ${bytes} bytes; ${largestPacketBytes} fit into a UDP datagram, and no more are taken.`
    : null;

const encodePacket = (packet: OscPacket, wire: WireMessage, depth: number): Result<Uint8Array, string> => {
  if (!isBundle(packet)) return encodeMessage(packet, wire);
  if (depth > deepestBundle) return fail(tooDeep);
  if (packet.timeTag < 0n || packet.timeTag >= 2n ** 64n) {
    return fail(`${packet.timeTag} is no time tag: whole numbers of 64 bits are.`);
  }
  const elements: Uint8Array[] = [];
  for (const element of packet.elements) {
    if (isBundle(element) && element.timeTag < packet.timeTag) {
      return fail('A bundle inside another may not be due before it.');
    }
    const encoded = encodePacket(element, wire, depth + 1);
    if (!encoded.ok) return encoded;
    elements.push(encoded.value);
  }
  return ok(frameBundle(packet.timeTag, elements));
};

const decodePacket = (bytes: Uint8Array, wire: WireMessage, depth: number): Result<OscPacket, string> => {
  if (!looksLikeBundle(bytes)) return decodeMessage(bytes, wire);
  if (depth > deepestBundle) return fail(tooDeep);
  const framed = unframeBundle(bytes);
  if (!framed.ok) return framed;
  const elements: OscPacket[] = [];
  for (const element of framed.value.elements) {
    const decoded = decodePacket(element, wire, depth + 1);
    if (!decoded.ok) return decoded;
    elements.push(decoded.value);
  }
  return ok({ timeTag: framed.value.timeTag, elements });
};

/** A codec of its own, so that no two use one message of osc-js at once. */
export const makeOscCodec = (): OscCodec => {
  const wire = wireMessage();
  return {
    encode: (packet) => {
      const encoded = encodePacket(packet, wire, 1);
      const fault = encoded.ok ? tooLarge(encoded.value.length) : null;
      return fault === null ? encoded : fail(fault);
    },
    decode: (bytes) => {
      const fault = tooLarge(bytes.length);
      return fault === null ? decodePacket(bytes, wire, 1) : fail(fault);
    },
  };
};
