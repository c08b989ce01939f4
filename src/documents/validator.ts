/** One complaint of a compiled schema, as ajv hands it over. */
export interface SchemaFault {
  /** JSON Pointer (RFC 6901) to the value complained of. */
  readonly instancePath: string;
  readonly keyword: string;
  readonly params: Readonly<Record<string, unknown>>;
}

/** A schema compiled ahead: says whether a value fits and leaves its complaints in `errors`. */
export interface Validator {
  (value: unknown): boolean;
  readonly errors?: readonly SchemaFault[] | null;
}
