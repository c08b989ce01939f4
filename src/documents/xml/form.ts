import { type Description, describe, type KeyValue, type SchemaAt } from '../describe.js';
import { isNumberLiteral } from '../number-literal.js';

/** W3C XML Schema, Part 1: Structures, section 2.6: the namespace of `xsi:nil`. */
export const instanceNamespace = 'http://www.w3.org/2001/XMLSchema-instance';
export const nilAttribute = 'xsi:nil';
/** The element of a list's items, and of a map's entries with their keys. */
export const itemElement = 'item';
export const entryElement = 'entry';
export const keyAttribute = 'key';
/** The attribute an item or entry carries a single value in. */
export const valueAttribute = 'value';

/**
 * How a value is written in XML: as one attribute (`scalar`; `words`, a list whose items hold no space;
 * `json`, JSON text of what the schemas do not describe) or as an element (`object`, `list`, `map`). Where a list of
 * words may be one text instead (`orText`), `textIn` tells which.
 */
export type Form =
  | { readonly kind: 'scalar'; readonly description: Description }
  | { readonly kind: 'object'; readonly description: Description }
  | { readonly kind: 'words'; readonly item: Description; readonly orText: boolean }
  | { readonly kind: 'list'; readonly item: SchemaAt }
  | { readonly kind: 'map'; readonly value: SchemaAt }
  | { readonly kind: 'json' };

export type WordsForm = Extract<Form, { kind: 'words' }>;

export type AttributeForm = Extract<Form, { kind: 'scalar' | 'words' | 'json' }>;

export const isAttributeForm = (form: Form): form is AttributeForm =>
  form.kind === 'scalar' || form.kind === 'words' || form.kind === 'json';

/** Texts that any pattern passes that passes spaces, and the empty text, which a list could not show. */
const spaced: readonly string[] = ['', 'a a', '1 1', ' '];

const holdsNoSpace = ({ types, schema }: Description): boolean => {
  if (!types.has('string')) return true;
  if (schema.enum) return schema.enum.every((each) => each !== '' && !/\s/.test(String(each)));
  const pattern = schema.pattern === undefined ? null : new RegExp(schema.pattern, 'u');
  return pattern !== null && spaced.every((text) => !pattern.test(text));
};

const isScalar = ({ types }: Description): boolean =>
  types.size > 0 && !types.has('object') && !types.has('array');

/** What stands between white space, which collapses as in the list types of W3C XML Schema, Part 2. */
export const wordsOf = (raw: string): readonly string[] =>
  raw.split(/[ \t\n\r]+/).filter((word) => word !== '');

/**
 * The one text that an attribute in the form of words holds, or null where it holds a list: a single word that no item
 * is or, where items are numbers, whatever is not numbers throughout. Any other text is written in an element of its own.
 */
export const textIn = (raw: string, { item, orText }: WordsForm): string | null => {
  if (!orText) return null;
  const words = wordsOf(raw);
  if (item.types.has('number')) return words.every(isNumberLiteral) ? null : raw;
  const [word, ...others] = words;
  const { pattern } = item.schema;
  const isItem = word === undefined || pattern === undefined || new RegExp(pattern, 'u').test(word);
  return isItem || others.length > 0 ? null : word;
};

/** The form of what the schemas describe at a place. */
export const formOf = (at: SchemaAt, keyValue?: KeyValue): Form => {
  const description = describe(at, keyValue);
  const { types, properties, others, items } = description;
  if (types.has('object')) {
    const isMap = properties.size === 0 && typeof others !== 'string';
    return isMap ? { kind: 'map', value: others } : { kind: 'object', description };
  }
  if (types.has('array') && items) {
    const item = describe(items);
    const inWords = isScalar(item) && !item.types.has('null') && holdsNoSpace(item);
    return inWords ? { kind: 'words', item, orText: types.has('string') } : { kind: 'list', item: items };
  }
  return isScalar(description) ? { kind: 'scalar', description } : { kind: 'json' };
};

/** The form of an attribute; of what may be one value or an object, that of the value. Null where it is no attribute. */
export const inAttribute = (form: Form): AttributeForm | null => {
  if (isAttributeForm(form)) return form;
  const isEither = form.kind === 'object' && form.description.types.has('string');
  return isEither ? { kind: 'scalar', description: form.description } : null;
};
