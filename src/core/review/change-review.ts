import { instantSeconds } from '../plan/calendar.ts';
import type { RecordOutline } from '../session/record-opener.ts';
import { recordDigest } from './record-digest.ts';
import { REVIEW_FORMAT, REVIEW_VERSION, type Correction, type ReviewDocument } from './review-document.ts';

/** Thrown away by nobody: a signed review that was to be changed. */
export class SignedReview extends Error {
  constructor() {
    super('A signed review does not change. Begin a new one that follows it.');
  }
}

/** A review of a record in which nothing stands yet. */
export function newReview(outline: RecordOutline, id: string, at: string): ReviewDocument {
  return {
    format: REVIEW_FORMAT,
    schemaVersion: REVIEW_VERSION,
    id,
    scope: 'whole',
    sessionId: outline.id,
    recordDigest: recordDigest(outline),
    follows: null,
    createdAt: at,
    changedAt: at,
    corrections: [],
    notes: [],
    drawings: [],
    handAngles: [],
    answer: null,
    signOff: null,
  };
}

/** A new review that goes on where a signed one ended, and names it. Throws when that one is not signed. */
export function followingReview(signed: ReviewDocument, id: string, at: string): ReviewDocument {
  if (signed.signOff === null)
    throw new Error('followingReview: the review is not signed and can be changed itself.');
  return { ...signed, id, follows: signed.id, createdAt: at, changedAt: at, signOff: null };
}

/** What of a review can be changed. */
export type ReviewChange = Partial<
  Pick<ReviewDocument, 'corrections' | 'notes' | 'drawings' | 'handAngles' | 'answer'>
>;

/** The review with a change made at a moment. Throws SignedReview when it is signed. */
export function changedReview(review: ReviewDocument, change: ReviewChange, at: string): ReviewDocument {
  if (review.signOff !== null) throw new SignedReview();
  return { ...review, ...change, changedAt: at };
}

/**
 * The corrections with one of them withdrawn, and with it those that stand on what it put in place; all are kept. What is
 * withdrawn already stays so.
 */
export function withWithdrawn(
  corrections: readonly Correction[],
  correctionId: string,
  at: string,
): Correction[] {
  const gone = new Set([correctionId]);
  for (const { id, targets } of corrections) {
    if (targets.some((ref) => ref.from === 'correction' && gone.has(ref.correctionId))) gone.add(id);
  }
  return corrections.map((one) =>
    gone.has(one.id) && one.withdrawnAt === null ? { ...one, withdrawnAt: at } : one,
  );
}

/** The signed review. Throws SignedReview when it is signed already. */
export function signedReview(review: ReviewDocument, name: string, at: string): ReviewDocument {
  if (review.signOff !== null) throw new SignedReview();
  return { ...review, changedAt: at, signOff: { name, at } };
}

/**
 * The review that counts among those of a session: the last written of those that no other one follows. Null without any.
 */
export function countingReview(reviews: readonly ReviewDocument[]): ReviewDocument | null {
  const followed = new Set(reviews.flatMap(({ follows }) => follows ?? []));
  return reviews
    .filter(({ id }) => !followed.has(id))
    .reduce<ReviewDocument | null>(
      (last, one) =>
        last === null || instantSeconds(one.changedAt) >= instantSeconds(last.changedAt) ? one : last,
      null,
    );
}

/** By session, the signed review that holds: the last signed one that no other signed one of it follows. */
export function signedReviews(reviews: readonly ReviewDocument[]): ReadonlyMap<string, ReviewDocument> {
  const bySession = new Map<string, ReviewDocument[]>();
  for (const review of reviews)
    if (review.signOff !== null)
      bySession.set(review.sessionId, [...(bySession.get(review.sessionId) ?? []), review]);
  return new Map(
    [...bySession].flatMap(([sessionId, signed]) => {
      const review = countingReview(signed);
      return review === null ? [] : [[sessionId, review] as const];
    }),
  );
}
