import type { JsonType, Schema } from './schema.js';

/** A schema, and the whole one whose definitions it may refer to. */
export interface SchemaAt {
  readonly schema: Schema;
  readonly root: Schema;
}

/** The schema of what the schemas leave open. */
export const anything: SchemaAt = { schema: {}, root: {} };

/** What the schemas say of one place in a document. */
export interface Description {
  /** The JSON types allowed; empty where the schemas say nothing. */
  readonly types: ReadonlySet<JsonType>;
  /** The keys an object has, in the order they are written. */
  readonly properties: ReadonlyMap<string, SchemaAt>;
  /** What holds for every other key. */
  readonly others: SchemaAt | 'refused' | 'anything';
  readonly items: SchemaAt | null;
  readonly keys: SchemaAt | null;
  /** Ranges, patterns, counts and words. */
  readonly schema: Schema;
}

/** Tells the value of a key of the object described, on which its other keys may depend. */
export type KeyValue = (key: string) => unknown;

/** Follows references; what stands beside one adds to it, or says the same thing narrower. */
const resolve = ({ schema, root }: SchemaAt): SchemaAt => {
  if (schema.$ref === undefined) return { schema, root };
  const { $ref, ...beside } = schema;
  const found = root.$defs?.[$ref];
  if (!found) throw new RangeError(`no definition ${$ref}`);
  const target = resolve({ schema: found, root }).schema;
  const words = [target.description, beside.description].filter((each) => each !== undefined);
  const description = words.length > 0 ? { description: words.join(' ') } : {};
  return { schema: { ...target, ...beside, ...description }, root };
};

const allows = (schema: Schema | undefined, value: unknown): boolean =>
  schema?.const === value || (schema?.enum?.includes(value) ?? false);

const holds = (condition: Schema, keyValue: KeyValue): boolean =>
  Object.entries(condition.properties ?? {}).every(([key, schema]) => allows(schema, keyValue(key)));

/** The alternatives of a `oneOf` that the discriminating key picks; all of them where it picks none. */
const picked = ({ schema, root }: SchemaAt, keyValue: KeyValue): readonly SchemaAt[] => {
  const key = schema.discriminator?.propertyName;
  const alternatives = (schema.oneOf ?? []).map((each) => resolve({ schema: each, root }));
  if (key === undefined) return alternatives;
  const fitting = alternatives.filter((each) => allows(each.schema.properties?.[key], keyValue(key)));
  return fitting.length > 0 ? fitting : alternatives;
};

/** The schemas that together describe a place, the general one first. */
const parts = (at: SchemaAt, keyValue: KeyValue): readonly SchemaAt[] => {
  const own = resolve(at);
  const { schema, root } = own;
  const conditional = (schema.allOf ?? []).flatMap((each) =>
    each.then && each.if && holds(each.if, keyValue) ? [each.then] : [],
  );
  const further = [...conditional, ...(schema.anyOf ?? [])].map((each) => ({ schema: each, root }));
  return [own, ...picked(own, keyValue), ...further.flatMap((each) => parts(each, keyValue))];
};

const typeOf = (value: unknown): JsonType => {
  if (value === null) return 'null';
  return typeof value as JsonType;
};

const typesOf = ({ type, enum: values, const: only }: Schema): readonly JsonType[] => {
  if (type !== undefined) return typeof type === 'string' ? [type] : type;
  return [...(values ?? []), ...(only === undefined ? [] : [only])].map(typeOf);
};

const othersOf = (all: readonly SchemaAt[]): Description['others'] => {
  const said = all.flatMap(({ schema: { additionalProperties }, root }) =>
    additionalProperties === undefined ? [] : [{ additionalProperties, root }],
  );
  if (said.some(({ additionalProperties }) => additionalProperties === false)) return 'refused';
  const [first] = said;
  if (!first || typeof first.additionalProperties === 'boolean') return 'anything';
  return { schema: first.additionalProperties, root: first.root };
};

/** What the schemas say of a place, given the keys that other keys depend on. */
export const describe = (at: SchemaAt, keyValue: KeyValue = () => undefined): Description => {
  const all = parts(at, keyValue);
  const properties = new Map<string, SchemaAt>();
  for (const { schema, root } of all) {
    for (const [key, property] of Object.entries(schema.properties ?? {})) {
      if (!properties.has(key)) properties.set(key, { schema: property, root });
    }
  }
  const found = <Key extends 'items' | 'propertyNames'>(key: Key): SchemaAt | null => {
    const part = all.find(({ schema }) => schema[key] !== undefined);
    const schema = part?.schema[key];
    return part && schema ? { schema, root: part.root } : null;
  };
  return {
    types: new Set(all.flatMap(({ schema }) => typesOf(schema))),
    properties,
    others: othersOf(all),
    items: found('items'),
    keys: found('propertyNames'),
    schema: Object.assign({}, ...all.map(({ schema }) => schema).reverse()) as Schema,
  };
};

/** What the schemas say of a key of a described object. */
export const propertyAt = ({ properties, others }: Description, key: string): SchemaAt | null => {
  const known = properties.get(key);
  if (known) return known;
  return typeof others === 'string' ? null : others;
};

/** What a value at hand has under a key. */
export const keyValueIn =
  (value: unknown): KeyValue =>
  (key) =>
    typeof value === 'object' && value !== null && Object.hasOwn(value, key)
      ? (value as Record<string, unknown>)[key]
      : undefined;
