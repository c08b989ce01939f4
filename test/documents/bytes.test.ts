import { describe, expect, it } from 'vitest';
import { largestInputBytes } from '../../src/documents/decode.js';
import { readDocument, readRig } from '../../src/documents/read.js';
import { writeXml } from '../../src/documents/write-xml.js';
import { expectProblem, sampleText } from './samples.js';

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

const utf16 = (text: string, isLittle: boolean, hasMark: boolean): Uint8Array => {
  const bytes = [...(hasMark ? `\ufeff${text}` : text)].flatMap((character) => {
    const code = character.charCodeAt(0);
    return isLittle ? [code & 255, code >> 8] : [code >> 8, code & 255];
  });
  return Uint8Array.from(bytes);
};

const latin1 = (text: string): Uint8Array => Uint8Array.from([...text].map((each) => each.charCodeAt(0)));

describe('bytes that are no readable text', () => {
  it.each([
    { name: 'nothing', bytes: utf8(''), code: 'file-empty', says: 'empty' },
    { name: 'spaces only', bytes: utf8(' \r\n\t\n'), code: 'file-empty', says: 'empty' },
    {
      name: 'a byte order mark only',
      bytes: Uint8Array.of(0xef, 0xbb, 0xbf),
      code: 'file-empty',
      says: 'empty',
    },
    { name: 'UTF-16 LE', bytes: utf16('{}', true, true), code: 'not-utf8', says: 'UTF-16' },
    { name: 'UTF-16 BE', bytes: utf16('<rig/>', false, true), code: 'not-utf8', says: 'UTF-16' },
    { name: 'UTF-16 LE, no mark', bytes: utf16('{"a":1}', true, false), code: 'not-utf8', says: 'UTF-16' },
    { name: 'UTF-16 BE, no mark', bytes: utf16('<rig/>', false, false), code: 'not-utf8', says: 'UTF-16' },
    {
      name: 'UTF-32 LE',
      bytes: Uint8Array.of(0xff, 0xfe, 0, 0, 0x7b, 0, 0, 0),
      code: 'not-utf8',
      says: 'UTF-32',
    },
    {
      name: 'binary',
      bytes: Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0, 1, 0xff),
      code: 'not-utf8',
      says: 'binary',
    },
    {
      name: 'Latin-1',
      bytes: latin1('{\n  "title": "caf\xe9"\n}'),
      code: 'not-utf8',
      says: 'save the file as UTF-8',
      line: 2,
      column: 16,
    },
    {
      name: 'a cut-off character',
      bytes: Uint8Array.of(0x7b, 0xe2, 0x82),
      code: 'not-utf8',
      says: 'UTF-8',
      line: 1,
      column: 2,
    },
    {
      name: 'an overlong form',
      bytes: Uint8Array.of(0x7b, 0xc0, 0x80),
      code: 'not-utf8',
      says: 'UTF-8',
      column: 2,
    },
    { name: 'a NUL', bytes: utf8('{\n"a\0": 1}'), code: 'nul-character', says: 'NUL', line: 2, column: 3 },
    {
      name: 'other text',
      bytes: utf8('\n  rig: show'),
      code: 'unknown-syntax',
      says: '"r"',
      line: 2,
      column: 3,
    },
    { name: 'a list', bytes: utf8('[]'), code: 'unknown-syntax', says: '"["' },
  ])('$name: $code', ({ bytes, ...expected }) => expectProblem(bytes, { path: '', ...expected }));

  it('are too many beyond 8 MiB, and a file of exactly 8 MiB is read', async () => {
    const text = writeXml(JSON.parse(sampleText('rig')));
    const full = utf8(`${text}<!--${' '.repeat(largestInputBytes - text.length - '<!---->'.length)}-->`);
    expect(full.length).toBe(8 * 1024 * 1024);
    expect(readRig(full, { source: 'full' }).ok).toBe(true);
    await expectProblem(new Uint8Array(largestInputBytes + 1), {
      code: 'file-too-large',
      path: '',
      says: '8 MiB',
    });
    // Text is measured in bytes too: each of these is two.
    await expectProblem('é'.repeat(largestInputBytes / 2 + 1), {
      code: 'file-too-large',
      path: '',
      says: '8 MiB',
    });
  });
});

describe('text that is read', () => {
  const read = async (input: string | Uint8Array): Promise<unknown> => {
    const outcome = readDocument(input, { source: 'text' });
    return outcome.ok ? outcome.value : outcome.error;
  };

  it('may begin with a byte order mark and have line ends of any kind', async () => {
    const plain = await read(sampleText('rig'));
    expect(plain).toEqual(JSON.parse(sampleText('rig')));
    expect(await read(utf8(`\ufeff${sampleText('rig')}`))).toEqual(plain);
    expect(await read(`\ufeff${sampleText('rig')}`)).toEqual(plain);
    expect(await read(sampleText('rig').replaceAll('\n', '\r\n'))).toEqual(plain);
    expect(await read(sampleText('rig').replaceAll('\n', '\r'))).toEqual(plain);
  });

  it('is of the syntax told, where one is told', async () => {
    const said = { code: 'json-syntax', path: '', says: '"<rig/>"' };
    await expectProblem('<rig/>', said, 'json');
    await expectProblem(
      '{"format": 1}',
      { code: 'xml-syntax', path: '', says: 'Text stands outside' },
      'xml',
    );
  });
});
