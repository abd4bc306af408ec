/** Everything that can go wrong with keeping; the sentence for each stands in feedback/storage-problems.ts. */
export type StorageProblem =
  /** No room left for this site. */
  | 'full'
  /** The browser lets this page keep nothing, as in many private windows. */
  | 'forbidden'
  /** The database went away, and opening it again did not help. */
  | 'lost-connection'
  /** Nothing is kept under this id. */
  | 'missing'
  /** Something else is kept under this id already; it is never overwritten. */
  | 'already-kept'
  /** What is kept cannot be read. */
  | 'unreadable'
  | 'other';

/** What a store did, or why it could not. The detail is the platform's own message, for developers. */
export type Stored<Value> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly problem: StorageProblem; readonly detail: string };

/** A success without a value. */
export const STORED: Stored<null> = { ok: true, value: null };
