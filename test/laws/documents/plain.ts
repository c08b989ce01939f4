import fc from 'fast-check';

/** Plain data: units are of no matter to a file. */
export type Plain = Readonly<Record<string, unknown>>;

/** What markup, terminals, spreadsheets, JavaScript and editors make something of. */
export const nasty = [
  '&',
  '<',
  '>',
  '"',
  "'",
  '&amp;',
  '&#10;',
  '&lt;',
  ']]>',
  '<!--',
  '-->',
  '<![CDATA[',
  '<?xml?>',
  '<!DOCTYPE a>',
  '  ',
  ' ',
  '\u00a0',
  '\u2003',
  '\ufeff',
  '\u200d',
  '\u0301',
  'é',
  'ß',
  'ı',
  '\u05d0',
  '\u{1f3b8}',
  '\u{10fffd}',
  '\ufffd',
  '__proto__',
  'constructor',
  'null',
  'true',
  '19k',
  '-0',
  '1e999',
  '=1+2',
  '{output}',
  '\\u0041',
  '\\',
  '/',
  '%00',
  '$&',
] as const;

export const pieces = (letters: fc.Arbitrary<string>, maxLength: number): fc.Arbitrary<string> =>
  fc.array(letters, { minLength: 1, maxLength }).map((all) => all.join(''));

export const text = pieces(
  fc.oneof(fc.constantFrom(...nasty), fc.string({ unit: 'grapheme', maxLength: 3 })),
  6,
).filter(
  (each) =>
    each.length > 0 &&
    /^[^\p{Cc}\p{Cs}\u00AD\u061C\u180E\u200B\u200E\u200F\u2028-\u202E\u2060-\u206F\uFEFF\uFFFE\uFFFF]+$/u.test(
      each,
    ),
);

export const id = fc.stringMatching(/^[a-z][a-z0-9-]{0,12}$/);
export const slotId = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,8}$/);

export const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true }).map((value) => value + 0);
export const frequencyHz = between(1e-9, 400_000);
export const gainDb = between(-120, 60);
export const q = between(1e-9, 1000);

export const some = <Value>(item: fc.Arbitrary<Value>, maxLength: number, minLength = 0) =>
  fc.array(item, { minLength, maxLength });

export const unique = <Value>(item: fc.Arbitrary<Value>, maxLength: number, minLength = 0) =>
  fc.uniqueArray(item, { minLength, maxLength });

/** An object whose keys after the first `required` may be left out. */
export const record = (
  required: Readonly<Record<string, fc.Arbitrary<unknown>>>,
  optional: Readonly<Record<string, fc.Arbitrary<unknown>>> = {},
): fc.Arbitrary<Plain> =>
  fc.record({ ...required, ...optional }, { requiredKeys: Object.keys(required), noNullPrototype: true });

export const joined = (...parts: readonly fc.Arbitrary<Plain>[]): fc.Arbitrary<Plain> =>
  fc.tuple(...parts).map((all) => Object.assign({}, ...all) as Plain);
