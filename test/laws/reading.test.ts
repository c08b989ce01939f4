import { DOMParser } from '@xmldom/xmldom';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AnyDocument } from '../../src/documents/documents.js';
import { parseJson } from '../../src/documents/json/parse-json.js';
import { parseJsonTree } from '../../src/documents/json/parse-tree.js';
import { deepestNesting, type ParseOutcome } from '../../src/documents/parsed.js';
import { readDocument } from '../../src/documents/read.js';
import { writeXml } from '../../src/documents/write-xml.js';
import { readElements } from '../../src/documents/xml/elements.js';
import { documents } from './documents.js';
import { spoiltPlain } from './spoil.js';

/** Pieces that JSON and XML texts are made and broken with. */
const jsonPieces = fc.constantFrom(
  ...[
    '{',
    '}',
    '[',
    ']',
    ',',
    ':',
    '"',
    '"a"',
    '"b"',
    '1',
    '-',
    '0',
    '.',
    'e5',
    'true',
    'null',
    ' ',
    '\n',
    '\\',
    '\\u0041',
    '/',
    '/*',
    '//',
    "'",
    'x',
    '\u0000',
    '\u00a0',
    '\u2028',
    '\ufeff',
    '\ud800',
    'é',
  ],
);
const xmlPieces = fc.constantFrom(
  ...[
    '<a>',
    '</a>',
    '<b/>',
    '<a ',
    'x="1"',
    " y='2'",
    ' x="',
    '"',
    "'",
    '<',
    '>',
    '/>',
    '=',
    '&',
    '&amp;',
    '&#65;',
    '&#x41;',
    '&x;',
    ';',
    '<!--',
    '-->',
    '--',
    '<![CDATA[',
    ']]>',
    '<?',
    '?>',
    '<?xml version="1.0"?>',
    '<!DOCTYPE a>',
    ' ',
    '\u00a0',
    '\n',
    '\t',
    't',
    ':',
    'é',
    '\u0000',
    '\ud800',
    '\ufffe',
  ],
);
const soup = (pieces: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  fc.array(pieces, { maxLength: 14 }).map((all) => all.join(''));

const parsedByEngine = (text: string): { readonly value: unknown } | null => {
  try {
    return { value: JSON.parse(text) };
  } catch {
    return null;
  }
};

const negativeZeroes = (value: unknown): unknown =>
  JSON.parse(JSON.stringify(value), (_, each: unknown) => each);

const withPlaces = (text: string): ParseOutcome => parseJsonTree(text, deepestNesting);

/** JSON with keys twice, keys that are never allowed, and numbers that no double holds. */
const { value: jsonWithTraps } = fc.letrec<{ readonly value: string }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 4, depthSize: 'small' },
    fc.constantFrom(
      '0',
      '-0',
      '-0.0',
      '1e3',
      '0.1',
      '1e999',
      '1e-999',
      '123456789012345678',
      '0.000000000000001',
    ),
    fc.constantFrom('true', 'null', '""', '"\\"a\\":"', '"\\\\"', '"a,b: 1"', '"\\u00e9\u2028"'),
    fc.array(tie('value'), { maxLength: 3 }).map((items) => `[${items.join(' , ')}]`),
    fc
      .array(
        fc.tuple(fc.constantFrom('a', 'b', 'c', '\\u0061', '', '__proto__', 'constructor'), tie('value')),
        {
          maxLength: 3,
        },
      )
      .map((entries) => `{${entries.map(([key, value]) => `"${key}" : ${value}`).join(',')}}`),
  ),
}));

describe('JSON', () => {
  // Source: JSON.parse of the engine, an independent reader of RFC 8259.
  it.each([
    ['at once', parseJson],
    ['with places', withPlaces],
  ])('read %s is what the engine takes for JSON, but for what would be lost', (_, read) => {
    const text = fc.oneof(
      soup(jsonPieces),
      fc.json(),
      fc.json().map((each) => `${each} `),
    );
    fc.assert(
      fc.property(text, (each) => {
        const ours = read(each);
        const engine = parsedByEngine(each);
        if (ours.ok) expect(engine).not.toBeNull();
        if (ours.ok && ours.value.problems.length === 0) {
          expect(ours.value.value).toEqual(negativeZeroes(engine?.value));
        }
        if (!ours.ok && ours.error.code === 'json-syntax') expect(engine).toBeNull();
      }),
      { numRuns: Number(process.env.RUNS ?? 1000) },
    );
  });
});

describe('JSON that is read at once', () => {
  /** Where the things of a value stand, but for keys that a path would have to quote. */
  const placesIn = (outcome: ParseOutcome) =>
    outcome.ok && ['', 'a', 'b', '[0]', '[1]', 'a.b', 'a[0]', '[0].a'].map(outcome.value.offsetOf);

  it('is the same as with places, in value, problems and places', () => {
    let [plain, refused] = [0, 0];
    fc.assert(
      fc.property(fc.oneof(jsonWithTraps, fc.json(), soup(jsonPieces)), (text) => {
        const [ours, tree] = [parseJson(text), withPlaces(text)];
        if (ours.ok && ours.value.problems.length === 0) plain++;
        else refused++;
        expect(ours.ok ? { ...ours.value, offsetOf: null } : ours).toEqual(
          tree.ok ? { ...tree.value, offsetOf: null } : tree,
        );
        expect(placesIn(ours)).toEqual(placesIn(tree));
      }),
      { numRuns: 4000 },
    );
    expect(Math.min(plain, refused)).toBeGreaterThan(500);
  });
});

describe('numbers', () => {
  // Source: ECMA-262, Number::toString, reads back to the same number.
  it('are read as the engine writes them, the 32-bit floats that desks tell among them', () => {
    const number = fc.oneof(
      fc.float({ noNaN: true, noDefaultInfinity: true }),
      fc.float({ min: 20, max: 22_000, noNaN: true }),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
    );
    fc.assert(
      fc.property(number, (value) => {
        const parsed = parseJson(JSON.stringify([value]));
        expect(parsed.ok && parsed.value.problems).toEqual([]);
        expect(parsed.ok && parsed.value.value).toEqual([value + 0]);
      }),
      { numRuns: Number(process.env.RUNS ?? 8000) },
    );
  });
});

describe('XML', () => {
  // Source: @xmldom/xmldom 0.9.12, a parser independent of the one used here.
  const soups = soup(xmlPieces);
  const xml = fc.oneof(
    soups,
    soups.map((inside) => `<a>${inside}</a>`),
    soups.map((value) => `<a x="${value}"/>`),
    soups.map((attributes) => `<a ${attributes}/>`),
  );

  it('that is taken is XML to another parser too', () => {
    fc.assert(
      fc.property(xml, (each) => {
        if (!readElements(each).ok) return;
        const errors: string[] = [];
        const parser = new DOMParser({
          onError: (level, message) => {
            if (level !== 'warning') errors.push(message);
          },
        });
        parser.parseFromString(each, 'text/xml');
        expect(errors).toEqual([]);
      }),
      { numRuns: Number(process.env.RUNS ?? 1500) },
    );
  });
});

describe('a spoilt document', () => {
  const document = fc
    .oneof(documents.rig, documents.target, documents.journal)
    .map((plain) => plain as unknown as AnyDocument);
  const place = fc.noBias(fc.nat(9999)).map((each) => each / 10_000);
  const piece = fc.oneof(fc.constant(''), jsonPieces, xmlPieces);

  it('is read or told of, with printable words, a path and a place, and never thrown at anybody', () =>
    fc.assert(
      fc.asyncProperty(
        document,
        fc.boolean(),
        place,
        fc.nat(12),
        piece,
        async (whole, isXml, share, length, put) => {
          const text = isXml ? writeXml(whole) : JSON.stringify(whole);
          const at = Math.floor(share * text.length);
          const spoilt = text.slice(0, at) + put + text.slice(at + length);
          const outcome = readDocument(spoilt, { source: 'law' });
          if (outcome.ok) return;
          expect(outcome.error.length).toBeGreaterThan(0);
          for (const each of outcome.error) {
            expect(each.message).toMatch(/^[^\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]+$/u);
            expect(each.path).toMatch(/^[^\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]*$/u);
            expect(each.code).toMatch(/^[a-z0-9-]+$/);
            expect(each).toMatchObject({
              source: 'law',
              line: expect.any(Number),
              column: expect.any(Number),
            });
          }
        },
      ),
      { numRuns: 200 },
    ));

  const spoiltData = fc.oneof(...Object.values(documents).map((each) => spoiltPlain(each)));

  it('is told of in words for the mistake itself, wherever in its data that is', () =>
    fc.assert(
      fc.asyncProperty(spoiltData, async (data) => {
        const outcome = readDocument(JSON.stringify(data), { source: 'law', syntax: 'json' });
        if (outcome.ok) return;
        const codes = outcome.error.map(({ code }) => code);
        // What is said where a schema refuses and nobody knows why.
        expect(codes).not.toContain('schema');
      }),
      { numRuns: Number(process.env.RUNS ?? 200) },
    ));
});
