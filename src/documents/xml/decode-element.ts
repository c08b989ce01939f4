import { quote } from '../../units/quote.js';
import { anything, type Description, propertyAt, type SchemaAt } from '../describe.js';
import { unknownKeyProblem } from '../fault-words.js';
import { mostProblems } from '../limits.js';
import { forbiddenKeys } from '../parsed.js';
import { decodeAttribute } from './decode-attribute.js';
import { type Decoding, inside, tell } from './decoding.js';
import type { XmlElement } from './element.js';
import { type AttributeForm, formOf, inAttribute, isAttributeForm } from './form.js';
import { entryElement, itemElement, keyAttribute, nilAttribute, valueAttribute } from './names.js';

/** Attributes that are read where they matter and are no data by themselves. */
const servants: readonly string[] = ['xmlns:xsi', nilAttribute];

const dataAttributes = (
  element: XmlElement,
  besides: readonly string[],
): readonly (readonly [string, string])[] =>
  [...element.attributes].filter(([name]) => !servants.includes(name) && !besides.includes(name));

const tellUnknown = (decoding: Decoding, name: string, allowed: readonly string[]): void => {
  // The words are not found where they would not be told.
  if (decoding.problems.length <= mostProblems) {
    decoding.problems.push(unknownKeyProblem(decoding.path, name, allowed));
  }
};

const tellRepeated = (decoding: Decoding, name: string): void =>
  tell(
    decoding,
    'duplicate-key',
    `${quote(name)} stands here more than once; one of them would be lost. Take one out.`,
  );

/** A boolean of W3C XML Schema, Part 2; anything else is told and taken for false. */
const saysNil = (element: XmlElement, decoding: Decoding): boolean => {
  const raw = element.attributes.get(nilAttribute) ?? 'false';
  if (!/^(true|false|1|0)$/.test(raw))
    tell(decoding, 'xml-form', `xsi:nil is "true" or "false", not ${quote(raw)}.`);
  return raw === 'true' || raw === '1';
};

const decodeNil = (element: XmlElement, decoding: Decoding): null => {
  if (element.children.length > 0 || dataAttributes(element, [keyAttribute]).length > 0) {
    tell(decoding, 'xml-form', 'An element with xsi:nil="true" means null and can hold nothing else.');
  }
  return null;
};

const decodeObject = (
  element: XmlElement,
  description: Description,
  besides: readonly string[],
  decoding: Decoding,
): unknown => {
  const object: Record<string, unknown> = {};
  const allowed = [...description.properties.keys()];
  const schemaOf = (key: string): SchemaAt | null => {
    if (forbiddenKeys.includes(key)) return null;
    return propertyAt(description, key) ?? (description.others === 'anything' ? anything : null);
  };
  for (const [name, raw] of dataAttributes(element, besides)) {
    const at = schemaOf(name);
    if (!at) {
      tellUnknown(decoding, name, allowed);
      continue;
    }
    const here = inside(decoding, name);
    here.offsets.set(here.path, element.offset);
    const form = inAttribute(formOf(at, () => undefined));
    if (form) object[name] = decodeAttribute(raw, form, here);
    else
      tell(here, 'xml-form', `${quote(name)} holds several values; write it as an element inside this one.`);
  }
  for (const child of element.children) {
    const { name } = child;
    const at = schemaOf(name);
    const here = inside(decoding, name);
    here.offsets.set(here.path, child.offset);
    if (!at) {
      tellUnknown(decoding, name, allowed);
    } else if (Object.hasOwn(object, name)) {
      tellRepeated(here, name);
    } else if (isAttributeForm(formOf(at, () => undefined)) && !saysNil(child, here)) {
      tell(
        here,
        'xml-form',
        `${quote(name)} is one value; write it as an attribute, ${name}="…", of the element it stands in.`,
      );
    } else {
      object[name] = decodeElement(child, at, here);
    }
  }
  return object;
};

/** Attributes on an element that holds only elements. */
const refuseAttributes = (element: XmlElement, besides: readonly string[], decoding: Decoding): void => {
  for (const [name] of dataAttributes(element, besides)) tellUnknown(decoding, name, []);
};

/** What is no item becomes null in its place, so that the others keep theirs. */
const decodeList = (element: XmlElement, item: SchemaAt, decoding: Decoding): unknown =>
  element.children.map((child, index) => {
    const here = inside(decoding, index);
    if (child.name === itemElement) return decodeElement(child, item, here);
    here.offsets.set(here.path, child.offset);
    tell(here, 'xml-form', `${quote(child.name)} stands in a list; write each of its members as <item …/>.`);
    return null;
  });

const decodeMap = (element: XmlElement, value: SchemaAt, decoding: Decoding): unknown => {
  const map: Record<string, unknown> = {};
  for (const child of element.children) {
    const key = child.attributes.get(keyAttribute);
    if (child.name !== entryElement || key === undefined) {
      const here = inside(decoding, child.name);
      here.offsets.set(here.path, child.offset);
      tell(
        here,
        'xml-form',
        `${quote(child.name)} stands where entries belong; write each as <entry key="name" …/>.`,
      );
    } else if (forbiddenKeys.includes(key)) {
      tellUnknown(decoding, key, []);
    } else if (Object.hasOwn(map, key)) {
      const here = inside(decoding, key);
      here.offsets.set(here.path, child.offset);
      tellRepeated(here, key);
    } else {
      map[key] = decodeElement(child, value, inside(decoding, key), [keyAttribute]);
    }
  }
  return map;
};

/** The one value that an item or an entry carries. */
const decodeCarried = (
  element: XmlElement,
  form: AttributeForm,
  besides: readonly string[],
  decoding: Decoding,
) => {
  refuseAttributes(element, [...besides, valueAttribute], decoding);
  const raw = element.attributes.get(valueAttribute);
  if (raw !== undefined && element.children.length === 0) return decodeAttribute(raw, form, decoding);
  tell(decoding, 'xml-form', `This holds one value; write it as ${valueAttribute}="…".`);
  return null;
};

/**
 * The value of an element, as the schema of its place has it. `besides` names the attributes that belong to
 * what holds the element and not to its value.
 */
export const decodeElement = (
  element: XmlElement,
  at: SchemaAt,
  decoding: Decoding,
  besides: readonly string[] = [],
): unknown => {
  decoding.offsets.set(decoding.path, element.offset);
  if (element.text !== '') {
    tell(
      decoding,
      'stray-text',
      `The text ${quote(element.text)} stands between elements; values are attributes.`,
    );
  }
  if (saysNil(element, decoding)) return decodeNil(element, decoding);
  const form = formOf(at, (key) => element.attributes.get(key));
  if (form.kind === 'object') return decodeObject(element, form.description, besides, decoding);
  if (isAttributeForm(form)) return decodeCarried(element, form, besides, decoding);
  refuseAttributes(element, besides, decoding);
  return form.kind === 'list'
    ? decodeList(element, form.item, decoding)
    : decodeMap(element, form.value, decoding);
};
