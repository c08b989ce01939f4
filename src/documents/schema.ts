import type { Result } from '../units/result.js';

export type JsonType = 'string' | 'number' | 'integer' | 'boolean' | 'null' | 'object' | 'array';

/** JSON Schema (draft 2020-12), as much of it as the schemas of this project use. */
export interface Schema {
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, Schema>>;
  readonly description?: string;
  readonly type?: JsonType | readonly JsonType[];
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly propertyNames?: Schema;
  readonly additionalProperties?: boolean | Schema;
  readonly items?: Schema;
  readonly allOf?: readonly Schema[];
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly discriminator?: { readonly propertyName: string };
  readonly if?: Schema;
  readonly then?: Schema;
  readonly pattern?: string;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minProperties?: number;
  readonly maxProperties?: number;
}

/** One complaint of a compiled schema, as ajv hands it over. */
export interface SchemaFault {
  /** JSON Pointer (RFC 6901) to the value complained of. */
  readonly instancePath: string;
  readonly keyword: string;
  readonly params: Readonly<Record<string, unknown>>;
}

/** A schema compiled ahead: a value that fits is the document the schema describes. */
export type Validator<Document> = (value: unknown) => Result<Document, readonly SchemaFault[]>;
