import { rootSchema } from './describe.js';
import { type AnyDocument, documentKinds, documentNameOf } from './documents.js';
import { ordered } from './write-order.js';

/**
 * A document as JSON text: two spaces a level, a line end at the end, keys in the order of the schema (those
 * the user names, by name), so that the same data gives the same bytes.
 */
export const writeJson = (document: AnyDocument): string => {
  const { schemaFile } = documentKinds[documentNameOf(document)];
  return `${JSON.stringify(ordered(document, rootSchema(schemaFile)), null, 2)}\n`;
};
