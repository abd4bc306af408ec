import { instantSeconds } from '../plan/calendar.ts';
import type { ReviewDocument } from './review-document.ts';

/**
 * Which sessions are signed, and when. The newest whole review of a session counts: where a further one was begun after a
 * signed one, the session waits again. Where only the copy for the patient is kept, the newest of those counts.
 */
export function signedAt(
  reviews: readonly Pick<ReviewDocument, 'scope' | 'sessionId' | 'createdAt' | 'signOff'>[],
): ReadonlyMap<string, string> {
  const newest = new Map<string, (typeof reviews)[number]>();
  for (const review of reviews) {
    const known = newest.get(review.sessionId);
    const isLater =
      known === undefined ||
      (known.scope === review.scope
        ? instantSeconds(review.createdAt) >= instantSeconds(known.createdAt)
        : review.scope === 'whole');
    if (isLater) newest.set(review.sessionId, review);
  }
  return new Map(
    [...newest].flatMap(([sessionId, { signOff }]) =>
      signOff === null ? [] : [[sessionId, signOff.at] as const],
    ),
  );
}
