import { anything, describe, propertyAt, type SchemaAt, tagOf } from './describe.js';

/** A key of an object, its value, and the schema of that value. */
export interface OrderedEntry {
  readonly key: string;
  readonly value: unknown;
  readonly at: SchemaAt;
}

/** The keys of an object in the one order they are written in: as the schema lists them, others by name. */
export const orderedEntries = (object: object, at: SchemaAt): readonly OrderedEntry[] => {
  const description = describe(at, tagOf(object));
  const listed = [...description.properties.keys()];
  const others = Object.keys(object)
    .filter((key) => !description.properties.has(key))
    .sort();
  return [...listed, ...others].flatMap((key) => {
    const value: unknown = (object as Record<string, unknown>)[key];
    return value === undefined ? [] : [{ key, value, at: propertyAt(description, key) ?? anything }];
  });
};

/** The same data with every object's keys in the order they are written in. */
export const ordered = (value: unknown, at: SchemaAt): unknown => {
  if (Array.isArray(value)) {
    const items = describe(at).items ?? anything;
    return value.map((item) => ordered(item, items));
  }
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    orderedEntries(value, at).map((each) => [each.key, ordered(each.value, each.at)]),
  );
};
