import { fail, ok, type Result } from '../units/result.js';

/** The most bytes of text a reader takes: 8 MiB, ten times the longest table a quantiser takes. */
export const largestInputBytes = 8 * 1024 * 1024;

/** Why bytes are no text that can be read. `before` is the text up to there, to count lines by. */
export interface DecodeFault {
  readonly code: 'file-too-large' | 'file-empty' | 'not-utf8' | 'nul-character';
  readonly message: string;
  readonly before: string;
}

const fault = (code: DecodeFault['code'], message: string, before = ''): Result<never, DecodeFault> =>
  fail({ code, message, before });

const saveAsUtf8 = 'save the file as UTF-8';

/** How text that is not UTF-8 begins (Unicode Standard, section 23.8). UTF-32 first: its mark holds UTF-16's. */
const otherEncodings: readonly { readonly name: string; readonly mark: readonly number[] }[] = [
  { name: 'UTF-32', mark: [0xff, 0xfe, 0x00, 0x00] },
  { name: 'UTF-32', mark: [0x00, 0x00, 0xfe, 0xff] },
  { name: 'UTF-16', mark: [0xff, 0xfe] },
  { name: 'UTF-16', mark: [0xfe, 0xff] },
  { name: 'UTF-16', mark: [0x3c, 0x00] },
  { name: 'UTF-16', mark: [0x00, 0x3c] },
  { name: 'UTF-16', mark: [0x7b, 0x00] },
  { name: 'UTF-16', mark: [0x00, 0x7b] },
];

/** The longest beginning of some bytes that is UTF-8, as text. */
const validBeginning = (bytes: Uint8Array): string => {
  let valid = 0;
  let tried = bytes.length;
  let text = '';
  while (tried > valid) {
    const middle = Math.ceil((valid + tried) / 2);
    try {
      // `stream` lets a character cut in half at the end pass.
      text = new TextDecoder('utf-8', { fatal: true }).decode(bytes.subarray(0, middle), { stream: true });
      valid = middle;
    } catch {
      tried = middle - 1;
    }
  }
  return text;
};

const decodeUtf8 = (bytes: Uint8Array): Result<string, DecodeFault> => {
  const other = otherEncodings.find(({ mark }) => mark.every((byte, index) => bytes[index] === byte));
  if (other)
    return fault('not-utf8', `This is ${other.name} text; only UTF-8 is read. Please ${saveAsUtf8}.`);
  try {
    return ok(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    const binary = bytes.includes(0);
    return fault(
      'not-utf8',
      binary
        ? 'This is not text but binary data; a JSON or XML file was expected. Check that it is the file you meant.'
        : `The bytes here are not UTF-8, perhaps an older encoding such as Latin-1; please ${saveAsUtf8}.`,
      validBeginning(bytes),
    );
  }
};

/**
 * Bytes, or text already decoded, as text to read: UTF-8, not empty, not too large, without NUL. A byte order
 * mark is dropped. Lines end with LF, as XML 1.0, section 2.11, has it; in JSON they are mere space.
 */
export const decodeText = (input: Uint8Array | string): Result<string, DecodeFault> => {
  const size = typeof input === 'string' ? new TextEncoder().encode(input).length : input.length;
  if (size > largestInputBytes) {
    const limit = `${largestInputBytes / 1024 ** 2} MiB`;
    return fault(
      'file-too-large',
      `The text is larger than ${limit}, the most that is read. Check that it is the file you meant.`,
    );
  }
  const decoded = typeof input === 'string' ? ok(input.replace(/^\uFEFF/, '')) : decodeUtf8(input);
  if (!decoded.ok) return decoded;
  const text = decoded.value.replace(/\r\n?/g, '\n');
  if (text.trim() === '') return fault('file-empty', 'The file is empty; a JSON or XML file was expected.');
  const nul = text.indexOf('\0');
  return nul === -1
    ? ok(text)
    : fault(
        'nul-character',
        'A NUL character stands here, so this is no text file, or a damaged one.',
        text.slice(0, nul),
      );
};
