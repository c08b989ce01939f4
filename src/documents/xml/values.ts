import { joinPaths, type Problem, pathTo, problem } from '../../model/problem.js';
import { quote } from '../../units/quote.js';
import { anything, type Description, propertyAt, type SchemaAt } from '../describe.js';
import { unknownKeyProblem } from '../fault-words.js';
import { parseJson } from '../json/parse-json.js';
import { isNumberLiteral, readNumberLiteral } from '../number-literal.js';
import {
  addProblem,
  deepestNesting,
  forbiddenKeys,
  mostProblems,
  mostValues,
  tooManyValues,
} from '../parsed.js';
import type { XmlElement } from './elements.js';
import {
  type AttributeForm,
  entryElement,
  formOf,
  inAttribute,
  isAttributeForm,
  itemElement,
  keyAttribute,
  nilAttribute,
  textIn,
  valueAttribute,
  wordsOf,
} from './form.js';

/** Where the decoding stands in the document, and what it tells on its way. */
export interface Decoding {
  readonly path: string;
  readonly depth: number;
  readonly problems: Problem[];
  readonly offsets: Map<string, number>;
}

/** One key or index further down, which the text tells in an element. */
const inside = (decoding: Decoding, key: string | number, element?: XmlElement): Decoding => {
  const path = pathTo(decoding.path, key);
  if (element) decoding.offsets.set(path, element.offset);
  return { ...decoding, path, depth: decoding.depth + 1 };
};

const tell = ({ problems, path }: Decoding, message: string, code = 'xml-form'): void =>
  addProblem(problems, problem(code, path, message));

const tellUnknown = (decoding: Decoding, name: string, allowed: Iterable<string>): void => {
  // The words are not found where they would not be told.
  if (decoding.problems.length <= mostProblems)
    decoding.problems.push(unknownKeyProblem(decoding.path, name, [...allowed]));
};

const tellRepeated = (decoding: Decoding, name: string): void => {
  const message = `${quote(name)} stands here more than once; one of them would be lost. Take one out.`;
  tell(decoding, message, 'duplicate-key');
};

/** What is no number where one belongs stays text: the schema tells, and hints at what may have been meant. */
const decodeScalar = (raw: string, { types }: Description, decoding: Decoding): unknown => {
  if (types.has('boolean') && (raw === 'true' || raw === 'false')) return raw === 'true';
  const wantsNumber = types.has('number') || types.has('integer');
  if (!wantsNumber || !isNumberLiteral(raw)) return raw;
  const read = readNumberLiteral(raw);
  if (read.ok) return read.value;
  tell(decoding, `${quote(raw)} ${read.error.message}.`, read.error.code);
  return 0;
};

const decodeJson = (raw: string, decoding: Decoding): unknown => {
  const parsed = parseJson(raw, deepestNesting - decoding.depth + 1);
  if (!parsed.ok) {
    const message = `${quote(raw)} is not the JSON text that belongs here, a value the schemas do not describe: ${parsed.error.message}. Text is written in quotes of its own, as in '"text"'.`;
    tell(decoding, message, 'xml-json');
    return null;
  }
  for (const each of parsed.value.problems)
    addProblem(decoding.problems, { ...each, path: joinPaths(decoding.path, each.path) });
  return parsed.value.value;
};

const decodeAttribute = (raw: string, form: AttributeForm, decoding: Decoding): unknown => {
  if (form.kind === 'json') return decodeJson(raw, decoding);
  if (form.kind === 'scalar') return decodeScalar(raw, form.description, decoding);
  const words = wordsOf(raw);
  if (words.length > mostValues) {
    tell(decoding, `Here ${tooManyValues}.`, 'too-many-values');
    return [];
  }
  const text = textIn(raw, form);
  if (text !== null) return text;
  return words.map((word, index) => decodeScalar(word, form.item, inside(decoding, index)));
};

/** The attributes that are data, not those that say how to read an element. */
const dataIn = (element: XmlElement, besides: readonly string[]): readonly (readonly [string, string])[] =>
  [...element.attributes].filter(([name]) => !['xmlns:xsi', nilAttribute, ...besides].includes(name));

/** A boolean of W3C XML Schema, Part 2; anything else is told and taken for false. */
const saysNil = (element: XmlElement, decoding: Decoding): boolean => {
  const raw = element.attributes.get(nilAttribute) ?? 'false';
  if (!/^(true|false|1|0)$/.test(raw)) tell(decoding, `xsi:nil is "true" or "false", not ${quote(raw)}.`);
  return raw === 'true' || raw === '1';
};

/** The text of an element that holds what would be read as a list in an attribute. */
const textAlone = ({ attributes, children, text }: XmlElement, at: SchemaAt): string | undefined => {
  const value = attributes.get(valueAttribute);
  if (value === undefined || attributes.size > 1 || children.length > 0 || text !== '') return undefined;
  const form = formOf(at);
  return form.kind === 'words' && form.orText ? value : undefined;
};

const decodeObject = (
  element: XmlElement,
  description: Description,
  besides: readonly string[],
  decoding: Decoding,
): unknown => {
  const object: Record<string, unknown> = {};
  const schemaOf = (key: string): SchemaAt | null => {
    const open = description.others === 'anything' ? anything : null;
    const at = forbiddenKeys.includes(key) ? null : (propertyAt(description, key) ?? open);
    if (!at) tellUnknown(decoding, key, description.properties.keys());
    return at;
  };
  for (const [name, raw] of dataIn(element, besides)) {
    const at = schemaOf(name);
    if (!at) continue;
    const here = inside(decoding, name, element);
    const form = inAttribute(formOf(at));
    if (form) object[name] = decodeAttribute(raw, form, here);
    else tell(here, `${quote(name)} holds several values; write it as an element inside this one.`);
  }
  for (const child of element.children) {
    const { name } = child;
    const here = inside(decoding, name, child);
    const at = schemaOf(name);
    if (!at) continue;
    const text = textAlone(child, at);
    if (Object.hasOwn(object, name)) tellRepeated(here, name);
    else if (text !== undefined) object[name] = text;
    else if (!isAttributeForm(formOf(at)) || saysNil(child, here))
      object[name] = decodeElement(child, at, here);
    else {
      const message = `${quote(name)} is one value; write it as an attribute, ${name}="…", of the element it stands in.`;
      tell(here, message);
    }
  }
  return object;
};

/** What is no item becomes null in its place, so that the others keep theirs. */
const decodeList = (element: XmlElement, item: SchemaAt, decoding: Decoding): unknown =>
  element.children.map((child, index) => {
    const here = inside(decoding, index, child);
    if (child.name === itemElement) return decodeElement(child, item, here);
    tell(here, `${quote(child.name)} stands in a list; write each of its members as <item …/>.`);
    return null;
  });

const decodeMap = (element: XmlElement, value: SchemaAt, decoding: Decoding): unknown => {
  const map: Record<string, unknown> = {};
  for (const child of element.children) {
    const key = child.name === entryElement ? child.attributes.get(keyAttribute) : undefined;
    if (key !== undefined && forbiddenKeys.includes(key)) {
      tellUnknown(decoding, key, []);
      continue;
    }
    const here = inside(decoding, key ?? child.name, child);
    if (key === undefined) {
      const message = `${quote(child.name)} stands where entries belong; write each as <entry key="name" …/>.`;
      tell(here, message);
    } else if (Object.hasOwn(map, key)) tellRepeated(here, key);
    else map[key] = decodeElement(child, value, here, [keyAttribute]);
  }
  return map;
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
  if (element.text !== '') {
    const message = `The text ${quote(element.text)} stands between elements; values are attributes.`;
    tell(decoding, message, 'stray-text');
  }
  if (saysNil(element, decoding)) {
    if (element.children.length > 0 || dataIn(element, [keyAttribute]).length > 0)
      tell(decoding, 'An element with xsi:nil="true" means null and can hold nothing else.');
    return null;
  }
  const form = formOf(at, (key) => element.attributes.get(key));
  if (form.kind === 'object') return decodeObject(element, form.description, besides, decoding);
  const isOne = isAttributeForm(form);
  for (const [name] of dataIn(element, isOne ? [...besides, valueAttribute] : besides))
    tellUnknown(decoding, name, []);
  if (form.kind === 'list') return decodeList(element, form.item, decoding);
  if (form.kind === 'map') return decodeMap(element, form.value, decoding);
  const raw = element.attributes.get(valueAttribute);
  if (raw !== undefined && element.children.length === 0) return decodeAttribute(raw, form, decoding);
  tell(decoding, `This holds one value; write it as ${valueAttribute}="…".`);
  return null;
};
