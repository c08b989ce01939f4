import { fail, ok, type Result } from '../units/result.js';
import {
  deepestBundle,
  frameBundle,
  isBundle,
  largestPacketBytes,
  looksLikeBundle,
  type OscPacket,
  unframeBundle,
} from './bundle.js';
import { decodeMessage, encodeMessage, type WireMessage, wireMessage } from './message-codec.js';

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
