import type { Stored } from '../stored.ts';
import type { PersonContents } from './person-contents.ts';

/** Rows that were erased, as they were; only for putting them back. */
export interface ErasedRows {
  readonly tables: readonly { readonly name: string; readonly rows: readonly unknown[] }[];
}

/** Erases everything of a person at once, from every table. Nothing rejects: every failure is a value. */
export interface Eraser {
  /** All or nothing: where it fails, everything is still there. Gives what was erased, so that it can be put back. */
  erase(contents: PersonContents): Promise<Stored<ErasedRows>>;
  putBack(erased: ErasedRows): Promise<Stored<null>>;
}
