import { z } from 'zod';
import { reviewDocumentSchema } from '../review/review-document.ts';

const { id, sessionId, createdAt, notes } = reviewDocumentSchema.shape;

/** What was noted with a session of a consult that has not ended yet: a page that is lost would take it along. */
const leftSessionSchema = z.strictObject({
  consultId: z.string().regex(/^[A-Za-z0-9_-]{1,40}$/),
  sessionId,
  reviewId: id,
  begunAt: createdAt,
  changedAt: createdAt,
  notes,
});
export type LeftSession = z.infer<typeof leftSessionSchema>;

/** Keeps that on this machine while the session runs: it outlives the tab. */
export interface LeftSessions {
  /** All of it, as it was found. */
  list(): readonly unknown[];
  save(left: LeftSession): void;
  forget(sessionId: string): void;
}

/** Those that can be read. */
export function readLeft(kept: readonly unknown[]): readonly LeftSession[] {
  return kept.flatMap((one) => {
    const read = leftSessionSchema.safeParse(one);
    return read.success ? [read.data] : [];
  });
}
