import { pathTo } from '../model/problem.js';
import { anything, type Description, describe, propertyAt, rootSchema, tagOf } from './describe.js';
import type { SchemaFault } from './validator.js';

/** A schema's complaint, the value complained of, and what the schemas say of its place. */
export interface LocatedFault {
  readonly keyword: string;
  readonly params: Readonly<Record<string, unknown>>;
  readonly path: string;
  /** The last key on the way; `values` for an item of `values`. */
  readonly key: string;
  readonly value: unknown;
  readonly description: Description;
}

/** Follows a complaint's pointer (RFC 6901) through the document and its schema. */
export const locateFault = (fault: SchemaFault, document: unknown, schemaFile: string): LocatedFault => {
  let value = document;
  let description = describe(rootSchema(schemaFile), tagOf(value));
  let path = '';
  let key = '';
  for (const escaped of fault.instancePath.split('/').slice(1)) {
    const segment = escaped.replaceAll('~1', '/').replaceAll('~0', '~');
    const inList = Array.isArray(value);
    path = pathTo(path, inList ? Number(segment) : segment);
    if (!inList) key = segment;
    const at = inList ? description.items : propertyAt(description, segment);
    value = (value as Record<string, unknown>)[segment];
    description = describe(at ?? anything, tagOf(value));
  }
  return { keyword: fault.keyword, params: fault.params, path, key, value, description };
};
