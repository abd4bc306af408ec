import type { KeptList } from '../plan/plan-store.ts';
import type { Stored } from '../stored.ts';
import type { ReviewDocument } from './review-document.ts';

/** Rows that were taken out of the store as they were, damaged ones included; only for putting them back. */
export interface TakenReviews {
  readonly reviews: readonly { readonly id: string; readonly sessionId: string; readonly review: unknown }[];
}

/** Keeps reviews of sessions. Nothing rejects: every failure is a value. Every step may be repeated without harm. */
export interface ReviewStore {
  /** "this-visit" keeps nothing beyond the page: storage is forbidden here. */
  readonly lasts: 'on-this-machine' | 'this-visit';
  /**
   * Keeps a review, or keeps it anew while it is not signed. One that is signed is never changed: the same again is fine,
   * another one under its id is "already-kept". A patient's copy never takes the place of the whole one; the whole one
   * takes the place of the copy.
   */
  keepReview(review: ReviewDocument): Promise<Stored<null>>;
  /** The reviews of a session, the oldest first. */
  reviewsOf(sessionId: string): Promise<Stored<KeptList<ReviewDocument>>>;
  /** All reviews, the oldest first. */
  listReviews(): Promise<Stored<KeptList<ReviewDocument>>>;
  /** Deletes the reviews of a session, and gives what was deleted so that it can be put back. */
  takeOutReviews(sessionId: string): Promise<Stored<TakenReviews>>;
  putBackReviews(taken: TakenReviews): Promise<Stored<null>>;
}
