/**
 * An outcome as a value. Expected failures travel as `error`; exceptions are left for our own bugs.
 */
export type Result<Value, Failure> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly error: Failure };

/** What came out. */
export const ok = <Value>(value: Value): { readonly ok: true; readonly value: Value } => ({
  ok: true,
  value,
});

/** Why nothing came out. */
export const fail = <Failure>(error: Failure): { readonly ok: false; readonly error: Failure } => ({
  ok: false,
  error,
});
