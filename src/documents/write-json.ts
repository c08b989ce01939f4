import { anything, describe, keyValueIn, propertyAt, type SchemaAt } from './describe.js';
import { type AnyDocument, type DocumentName, documentNameOf } from './documents.js';
import { intentsSchema } from './generated/intents-schema.js';
import { journalSchema } from './generated/journal-schema.js';
import { recipeSchema } from './generated/recipe-schema.js';
import { rigSchema } from './generated/rig-schema.js';
import { targetSchema } from './generated/target-schema.js';
import type { Schema } from './schema.js';

const schemas: Readonly<Record<DocumentName, () => Schema>> = {
  rig: () => rigSchema(),
  intents: () => intentsSchema(),
  target: () => targetSchema(),
  recipe: () => recipeSchema(),
  journal: () => journalSchema(),
};

/** The schema a document is written by. */
export const schemaOf = (document: AnyDocument): SchemaAt => {
  const root = schemas[documentNameOf(document)]();
  return { schema: root, root };
};

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
export const writeJson = (document: AnyDocument): string =>
  `${JSON.stringify(inOrder(document, schemaOf(document)), null, 2)}\n`;
