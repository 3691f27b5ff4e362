/** An expected outcome that may fail. Throwing is kept for programmer errors. */
export type Result<T, E> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: E };

/** Wraps a success. */
export function ok<T>(value: T): { readonly ok: true; readonly value: T } {
  return { ok: true, value };
}

/** Wraps an expected failure. */
export function err<E>(error: E): { readonly ok: false; readonly error: E } {
  return { ok: false, error };
}

/** Closes a discriminated union: compiles only where every case was handled. */
export function assertNever(value: never): never {
  throw new Error(`Unhandled case ${JSON.stringify(value)}`);
}
