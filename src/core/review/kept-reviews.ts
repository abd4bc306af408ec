import { instantSeconds } from '../plan/calendar.ts';
import type { KeptList } from '../plan/plan-store.ts';
import { isSameValue } from '../plan/same-value.ts';
import { isFullerCopy } from './patient-copy.ts';
import { readReviewValue } from './read-review.ts';
import type { ReviewDocument } from './review-document.ts';

/* What every store of reviews does with the rows that it keeps. */

/**
 * Whether a review may be written where a row is kept under its id: write, write once what is there was set aside, leave what
 * is there, or refuse.
 */
export function keepingOver(
  kept: unknown,
  review: ReviewDocument,
): 'write' | 'write-beside' | 'leave' | 'refuse' {
  const reading = readReviewValue(kept);
  // What cannot be read may be of a newer version, and is never written over.
  if (!reading.ok) return 'write-beside';
  const { scope, signOff } = reading.review;
  if (scope !== review.scope) return scope === 'whole' ? 'leave' : 'write';
  if (signOff === null || isFullerCopy(reading.review, review)) return 'write';
  return isSameValue(reading.review, review) ? 'leave' : 'refuse';
}

/** The reviews among kept values, the oldest first, and how many cannot be read. */
export function reviewsAmong(kept: readonly unknown[]): KeptList<ReviewDocument> {
  const items = kept.flatMap((value) => {
    const reading = readReviewValue(value);
    return reading.ok ? [reading.review] : [];
  });
  return {
    items: items.sort((a, b) => instantSeconds(a.createdAt) - instantSeconds(b.createdAt)),
    unreadable: kept.length - items.length,
  };
}
