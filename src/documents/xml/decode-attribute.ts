import { joinPaths } from '../../model/problem.js';
import { quote } from '../../units/quote.js';
import type { Description } from '../describe.js';
import { parseJson } from '../json/parse-json.js';
import { deepestNesting, mostValues, note, tooManyValues } from '../limits.js';
import { isNumberLiteral, readNumberLiteral } from '../number-literal.js';
import { type Decoding, inside, tell } from './decoding.js';
import type { AttributeForm } from './form.js';

/** What is no number where one belongs stays text: the schema tells, and hints at what may have been meant. */
const decodeScalar = (raw: string, { types }: Description, decoding: Decoding): unknown => {
  if (types.has('boolean') && (raw === 'true' || raw === 'false')) return raw === 'true';
  const wantsNumber = types.has('number') || types.has('integer');
  if (!wantsNumber || !isNumberLiteral(raw)) return raw;
  const read = readNumberLiteral(raw);
  if (read.ok) return read.value;
  tell(decoding, read.error.code, `${quote(raw)} ${read.error.message}.`);
  return 0;
};

const decodeJson = (raw: string, decoding: Decoding): unknown => {
  const parsed = parseJson(raw, deepestNesting - decoding.depth + 1);
  if (!parsed.ok) {
    const message = `${quote(raw)} is not the JSON text that belongs here, a value the schemas do not describe: ${parsed.error.message}. Text is written in quotes of its own, as in '"text"'.`;
    tell(decoding, 'xml-json', message);
    return null;
  }
  for (const each of parsed.value.problems) {
    note(decoding.problems, { ...each, path: joinPaths(decoding.path, each.path) });
  }
  return parsed.value.value;
};

/** White space between the items of a list collapses, as in the list types of W3C XML Schema, Part 2. */
const wordsOf = (raw: string): readonly string[] => raw.split(/[ \t\n\r]+/).filter((word) => word !== '');

const isItem = (word: string, { schema }: Description): boolean =>
  schema.pattern === undefined || new RegExp(schema.pattern, 'u').test(word);

/** The value an attribute holds. */
export const decodeAttribute = (raw: string, form: AttributeForm, decoding: Decoding): unknown => {
  if (form.kind === 'json') return decodeJson(raw, decoding);
  if (form.kind === 'scalar') return decodeScalar(raw, form.description, decoding);
  const words = wordsOf(raw);
  if (words.length > mostValues) {
    tell(decoding, 'too-many-values', `Here ${tooManyValues}.`);
    return [];
  }
  if (form.orText && words.length === 1 && !isItem(words[0] ?? '', form.item)) return words[0];
  return words.map((word, index) => decodeScalar(word, form.item, inside(decoding, index)));
};
