import { anything, keyValueIn, type SchemaAt } from './describe.js';
import { type AnyDocument, documentNameOf } from './documents.js';
import { inOrder, orderedEntries, schemaOf } from './write-json.js';
import {
  entryElement,
  formOf,
  inAttribute,
  instanceNamespace,
  isAttributeForm,
  itemElement,
  keyAttribute,
  nilAttribute,
  textIn,
  valueAttribute,
} from './xml/form.js';
import { forbiddenCharacterAt } from './xml/scan.js';

const escapes: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/**
 * What a reader may make something else of: white space in attributes becomes a space (XML 1.0, section
 * 3.3.3), and readers that follow XML 1.1, section 2.11, take U+0085 and U+2028 for line ends.
 */
const unsteady = /[&<>"\t\n\r\u007f-\u009f\u2028]/g;

/** ` name="text"`. Throws RangeError for what no XML can hold; no document that fits its schema has it. */
const attribute = (name: string, text: string): string => {
  const forbidden = forbiddenCharacterAt(text);
  if (forbidden !== -1)
    throw new RangeError(`XML cannot hold the character code ${text.charCodeAt(forbidden)}`);
  const escaped = text.replace(unsteady, (each) => escapes[each] ?? `&#${each.charCodeAt(0)};`);
  return ` ${name}="${escaped}"`;
};

/** JSON text without the two characters that JSON may hold as such and XML may not. */
const jsonText = (value: unknown): string =>
  JSON.stringify(inOrder(value, anything)).replace(
    /[\ufffe\uffff]/g,
    (character) => `\\u${character.charCodeAt(0).toString(16)}`,
  );

/** The text of the attribute that holds a value; null for a value that an element holds. */
const attributeText = (value: unknown, at: SchemaAt): string | null => {
  const whole = formOf(at, keyValueIn(value));
  const form = typeof value === 'object' ? whole : inAttribute(whole);
  if (!form || !isAttributeForm(form)) return null;
  if (form.kind === 'json') return jsonText(value);
  if (value === null) return null;
  if (form.kind === 'words' && typeof value === 'string' && textIn(value, form) !== value) return null;
  // -0 + 0 is 0: negative zero is not written.
  const textOf = (each: unknown): string => String(typeof each === 'number' ? each + 0 : each);
  return Array.isArray(value) ? value.map(textOf).join(' ') : textOf(value);
};

type Lines = readonly string[];

/** An element in lines, two spaces a level; `attributes` as they are written, with a space before each. */
const elementLines = (name: string, attributes: string, children: Lines): Lines =>
  children.length === 0
    ? [`<${name}${attributes}/>`]
    : [`<${name}${attributes}>`, ...children.map((line) => `  ${line}`), `</${name}>`];

/** The element of a value that may stand in an attribute elsewhere: an item, or an entry. */
const carrierLines = (name: string, value: unknown, at: SchemaAt, attributes: string): Lines => {
  const text = attributeText(value, at);
  return text === null
    ? valueLines(name, value, at, attributes)
    : elementLines(name, attributes + attribute(valueAttribute, text), []);
};

/** The element of a value: null, an object, a list or a map, as the schema of its place has it. */
const valueLines = (name: string, value: unknown, at: SchemaAt, attributes = ''): Lines => {
  if (value === null) return elementLines(name, attributes + attribute(nilAttribute, 'true'), []);
  // A text that an attribute would make a list of.
  if (typeof value === 'string') return elementLines(name, attributes + attribute(valueAttribute, value), []);
  const form = formOf(at, keyValueIn(value));
  if (form.kind === 'list') {
    const items = (value as readonly unknown[]).flatMap((each) =>
      carrierLines(itemElement, each, form.item, ''),
    );
    return elementLines(name, attributes, items);
  }
  const entries = orderedEntries(value as object, at);
  if (form.kind === 'map') {
    const children = entries.flatMap((each) =>
      carrierLines(entryElement, each.value, form.value, attribute(keyAttribute, each.key)),
    );
    return elementLines(name, attributes, children);
  }
  const texts = entries.map((each) => ({ ...each, text: attributeText(each.value, each.at) }));
  const own = texts.map(({ key, text }) => (text === null ? '' : attribute(key, text))).join('');
  const children = texts.flatMap((each) =>
    each.text === null ? valueLines(each.key, each.value, each.at) : [],
  );
  return elementLines(name, attributes + own, children);
};

/**
 * A document as XML text: the same data as its JSON form, two spaces a level, keys in the order of the
 * schema, so that the same data gives the same bytes.
 */
export const writeXml = (document: AnyDocument): string => {
  const name = documentNameOf(document);
  const [first = '', ...rest] = valueLines(name, document, schemaOf(document));
  // No value can look like this: quotes in it are escaped.
  const saysNull = rest.some((line) => line.includes(attribute(nilAttribute, 'true')));
  const namespace = saysNull ? attribute('xmlns:xsi', instanceNamespace) : '';
  const root = first.replace(`<${name}`, `<${name}${namespace}`);
  return `${['<?xml version="1.0" encoding="UTF-8"?>', root, ...rest].join('\n')}\n`;
};
