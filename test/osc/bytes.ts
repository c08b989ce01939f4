import { makeOscCodec, type OscCodec } from '../../src/osc/codec.js';

/** Bytes written in hexadecimal, blanks ignored. */
export const hex = (text: string): Uint8Array =>
  Uint8Array.from(text.replace(/\s/g, '').match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));

export const toHex = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');

/** ASCII, each `.` a NUL: `/a..,i..` is the head of a message with one integer. */
export const ascii = (text: string): Uint8Array =>
  Uint8Array.from(text, (character) => (character === '.' ? 0 : character.charCodeAt(0)));

export const joined = (...parts: readonly Uint8Array[]): Uint8Array =>
  Uint8Array.from(parts.flatMap((part) => [...part]));

export const codec: OscCodec = makeOscCodec();

export const encoded = (...args: Parameters<OscCodec['encode']>): Uint8Array => {
  const outcome = codec.encode(...args);
  if (!outcome.ok) throw new Error(outcome.error);
  return outcome.value;
};
