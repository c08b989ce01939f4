import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';

const bytesOf = (content: string | Uint8Array): Uint8Array =>
  sha256(typeof content === 'string' ? utf8ToBytes(content) : content);

/** SHA-256 (FIPS 180-4) of bytes, or of a text in UTF-8, in hexadecimal digits. */
export const digestOf = (content: string | Uint8Array): string => bytesToHex(bytesOf(content));

/** The same in base64 (RFC 4648, section 4). */
export const base64DigestOf = (content: string | Uint8Array): string =>
  btoa(String.fromCharCode(...bytesOf(content)));
