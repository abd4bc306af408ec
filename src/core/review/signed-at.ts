import { instantSeconds } from '../plan/calendar.ts';
import type { ReviewDocument } from './review-document.ts';

/**
 * Which sessions are signed, and when. The newest whole review of a session counts: where a further one was begun after a
 * signed one, the session waits again.
 */
export function signedAt(
  reviews: readonly Pick<ReviewDocument, 'scope' | 'sessionId' | 'createdAt' | 'signOff'>[],
): ReadonlyMap<string, string> {
  const newest = new Map<string, (typeof reviews)[number]>();
  for (const review of reviews) {
    if (review.scope !== 'whole') continue;
    const known = newest.get(review.sessionId);
    if (known === undefined || instantSeconds(review.createdAt) >= instantSeconds(known.createdAt))
      newest.set(review.sessionId, review);
  }
  return new Map(
    [...newest].flatMap(([sessionId, { signOff }]) =>
      signOff === null ? [] : [[sessionId, signOff.at] as const],
    ),
  );
}
