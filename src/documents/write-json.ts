import { anything, describe, keyValueIn, propertyAt, rootSchema, type SchemaAt } from './describe.js';
import { type AnyDocument, documentKinds, documentNameOf } from './documents.js';

/** A key of an object, its value, and the schema of that value. */
export interface OrderedEntry {
  readonly key: string;
  readonly value: unknown;
  readonly at: SchemaAt;
}

/** The keys of an object in the one order they are written in: as the schema lists them, others by name. */
export const orderedEntries = (object: object, at: SchemaAt): readonly OrderedEntry[] => {
  const description = describe(at, keyValueIn(object));
  const others = Object.keys(object)
    .filter((key) => !description.properties.has(key))
    .sort();
  return [...description.properties.keys(), ...others].flatMap((key) => {
    const value: unknown = (object as Record<string, unknown>)[key];
    return value === undefined ? [] : [{ key, value, at: propertyAt(description, key) ?? anything }];
  });
};

/** The same data with every object's keys in the order they are written in. */
export const inOrder = (value: unknown, at: SchemaAt): unknown => {
  if (Array.isArray(value)) {
    const items = describe(at).items ?? anything;
    return value.map((item) => inOrder(item, items));
  }
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    orderedEntries(value, at).map((each) => [each.key, inOrder(each.value, each.at)]),
  );
};

/**
 * A document as JSON text: two spaces a level, a line end at the end, keys in the order of the schema (those
 * the user names, by name), so that the same data gives the same bytes.
 */
export const writeJson = (document: AnyDocument): string => {
  const { schemaFile } = documentKinds[documentNameOf(document)];
  return `${JSON.stringify(inOrder(document, rootSchema(schemaFile)), null, 2)}\n`;
};
