import { writeXml } from '../documents/write-xml.js';
import { type Problem, problem } from '../model/problem.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { type Exporter, escapeControlCharacters } from './exporter.js';

/** Whatever XML 1.0 has no way to write, not even as a reference (production 2, Char). */
const unwritable = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u;

/** The places of texts that XML cannot hold. A recipe that was read from a file has none. */
const unwritableTexts = (value: unknown, path: string): readonly Problem[] => {
  if (typeof value === 'string') {
    if (!unwritable.test(value)) return [];
    const told = `${quote(value)} holds a character that XML has no way to write. Take it out, or export JSON.`;
    return [problem('xml-unwritable', path, told)];
  }
  if (Array.isArray(value)) return value.flatMap((item, index) => unwritableTexts(item, `${path}[${index}]`));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) =>
    unwritableTexts(inner, path === '' ? key : `${path}.${key}`),
  );
};

const asReference = (character: string): string => `&#x${character.codePointAt(0)?.toString(16)};`;

/** The recipe as XML, holding what its JSON form holds; it reads back without loss. */
export const xml: Exporter = {
  name: 'xml',
  summary: 'the whole recipe as XML',
  fileName: 'recipe.xml',
  mediaType: 'application/xml',
  content: (recipe) => {
    const problems = unwritableTexts(recipe, '');
    if (problems.length > 0) return fail(problems);
    return ok(escapeControlCharacters(writeXml(recipe), asReference));
  },
};
