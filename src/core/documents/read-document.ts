import type { z } from 'zod';
import { migrate, type JsonObject, type Migration } from './stepwise-migration.ts';

/** Why something is no document that can be used. The sentences stand in feedback, one set for each kind of document. */
export type DocumentProblem =
  | { readonly kind: 'not-json'; readonly detail: string }
  | { readonly kind: 'not-ours' }
  | { readonly kind: 'newer-version'; readonly version: number; readonly readableVersion: number }
  | { readonly kind: 'damaged'; readonly path: string; readonly detail: string };

/** A value, or why there is none. */
export type Reading<T, Problem = DocumentProblem> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: Problem };

/** A kind of document: how it names itself, the version that is written now, the steps up to it, and its schema. */
export interface DocumentKind<Schema extends z.ZodType> {
  readonly format: string;
  readonly version: number;
  readonly steps: readonly Migration[];
  readonly schema: Schema;
  /** What the whole of it is called where no part can be named, for example "the whole record". */
  readonly whole: string;
}

/** The value that a text says in JSON; a byte order mark at its start is passed over. */
export function parseJson(text: string): Reading<unknown> {
  try {
    const value: unknown = JSON.parse(text.replace(/^\uFEFF/, ''));
    return { ok: true, value };
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error);
    return { ok: false, problem: { kind: 'not-json', detail } };
  }
}

/** Takes a parsed value through its format, its version, the steps up to today's, and the schema, in this order. */
export function readDocument<Schema extends z.ZodType>(
  value: unknown,
  { format, version: readableVersion, steps, schema, whole }: DocumentKind<Schema>,
): Reading<z.output<Schema>> {
  if (!isJsonObject(value) || value['format'] !== format) return refuse({ kind: 'not-ours' });
  const version = value['schemaVersion'];
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return refuse({ kind: 'damaged', path: 'schemaVersion', detail: 'It is no version number.' });
  if (version > readableVersion) return refuse({ kind: 'newer-version', version, readableVersion });
  const checked = schema.safeParse(migrate(value, version, steps));
  if (checked.success) return { ok: true, value: checked.data };
  const [issue] = checked.error.issues;
  return refuse({
    kind: 'damaged',
    path: issue?.path.join('.') || whole,
    detail: issue?.message ?? 'unknown',
  });
}

/** True of a JSON object, not of a list or null. */
export function isJsonObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function refuse(problem: DocumentProblem): { readonly ok: false; readonly problem: DocumentProblem } {
  return { ok: false, problem };
}
