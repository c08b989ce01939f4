import { anything, type SchemaAt, tagOf } from '../describe.js';
import { ordered, orderedEntries } from '../write-order.js';
import { escapeAttribute } from './escape.js';
import { formOf, inAttribute, isAttributeForm } from './form.js';
import { entryElement, itemElement, keyAttribute, nilAttribute, valueAttribute } from './names.js';

/** An element ready to be written. */
export interface WrittenElement {
  readonly name: string;
  /** Names with their values, escaped already. */
  readonly attributes: readonly (readonly [string, string])[];
  readonly children: readonly WrittenElement[];
}

type Attributes = WrittenElement['attributes'];

/** JSON text without the two characters that JSON may hold as such and XML may not. */
const jsonText = (value: unknown): string =>
  JSON.stringify(ordered(value, anything)).replace(
    /[\ufffe\uffff]/g,
    (character) => `\\u${character.charCodeAt(0).toString(16)}`,
  );

/** The value of the attribute that holds a value; null for a value that an element holds. */
const attributeText = (value: unknown, at: SchemaAt): string | null => {
  const whole = formOf(at, tagOf(value));
  const form = typeof value === 'object' ? whole : inAttribute(whole);
  if (!form || !isAttributeForm(form)) return null;
  if (form.kind === 'json') return escapeAttribute(jsonText(value));
  if (value === null) return null;
  // -0 + 0 is 0: negative zero is not written.
  const texts = (Array.isArray(value) ? (value as readonly unknown[]) : [value]).map((each) =>
    typeof each === 'number' ? String(each + 0) : String(each),
  );
  return escapeAttribute(texts.join(' '));
};

/** The element of a value that may stand in an attribute elsewhere: an item, or an entry. */
const carrier = (name: string, value: unknown, at: SchemaAt, attributes: Attributes): WrittenElement => {
  const text = attributeText(value, at);
  return text === null
    ? encodeElement(name, value, at, attributes)
    : { name, attributes: [...attributes, [valueAttribute, text]], children: [] };
};

/** The element of a value: null, an object, a list or a map, as the schema of its place has it. */
export const encodeElement = (
  name: string,
  value: unknown,
  at: SchemaAt,
  attributes: Attributes = [],
): WrittenElement => {
  if (value === null) return { name, attributes: [...attributes, [nilAttribute, 'true']], children: [] };
  const form = formOf(at, tagOf(value));
  if (form.kind === 'list') {
    const items = (value as readonly unknown[]).map((item) => carrier(itemElement, item, form.item, []));
    return { name, attributes, children: items };
  }
  const entries = orderedEntries(value as object, at);
  if (form.kind === 'map') {
    const children = entries.map((each) =>
      carrier(entryElement, each.value, form.value, [[keyAttribute, escapeAttribute(each.key)]]),
    );
    return { name, attributes, children };
  }
  const texts = entries.map((each) => ({ ...each, text: attributeText(each.value, each.at) }));
  return {
    name,
    attributes: [
      ...attributes,
      ...texts.flatMap(({ key, text }) => (text === null ? [] : [[key, text] as const])),
    ],
    children: texts
      .filter(({ text }) => text === null)
      .map((each) => encodeElement(each.key, each.value, each.at)),
  };
};

/** Whether an element says null somewhere, so that the namespace of `xsi:nil` must be declared. */
export const saysNull = ({ attributes, children }: WrittenElement): boolean =>
  attributes.some(([name]) => name === nilAttribute) || children.some(saysNull);
