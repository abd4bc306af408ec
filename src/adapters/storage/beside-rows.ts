import { besideHeadSchema, type BesideHead } from '../../core/backup/backup-lines.ts';
import { base64Of } from '../../core/documents/base64.ts';
import { readItem } from '../../core/exchange/package-items.ts';
import type { KeptBeside } from '../../core/exchange/exchange-store.ts';

/* Rows of what stands beside something else of its name, as they lie in the database: whatever they say. */

type BesideRow = Omit<KeptBeside, 'content'> & { readonly content: unknown };

/** What a row says without its bytes; null where that cannot be read. */
export function besideHead({ content, ...rest }: BesideRow): BesideHead | null {
  const mimeType = content instanceof Blob ? content.type : null;
  return besideHeadSchema.safeParse({ ...rest, mimeType }).data ?? null;
}

/** Why a row cannot be read, for developers; null where it can. */
export async function besideRefusal(row: BesideRow): Promise<string | null> {
  const head = besideHead(row);
  if (head === null || !(row.content instanceof Blob)) return 'What it is cannot be read.';
  if (row.content.size !== head.entry.bytes) return 'Its content is cut short.';
  try {
    const reading = await readItem(head.entry, row.content);
    return reading.ok ? null : JSON.stringify(reading.problem);
  } catch {
    return 'The browser gives its content no more.';
  }
}

/** The row with its bytes in base64, as JSON can say it; null for bytes that cannot be had. */
export async function besideAsPlain({ content, ...rest }: BesideRow): Promise<Record<string, unknown>> {
  const bytes = content instanceof Blob ? await content.arrayBuffer().catch(() => null) : null;
  return { ...rest, content: bytes === null ? null : base64Of(new Uint8Array(bytes)) };
}
