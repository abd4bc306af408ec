import type { KeptList } from '../../core/plan/plan-store.ts';
import { keepingOver, reviewsAmong } from '../../core/review/kept-reviews.ts';
import type { ReviewDocument } from '../../core/review/review-document.ts';
import type { ReviewStore, TakenReviews } from '../../core/review/review-store.ts';
import { STORED, type Stored } from '../../core/stored.ts';

/** Reviews for this visit only, where the browser lets the page keep nothing. */
export class MemoryReviewStore implements ReviewStore {
  readonly lasts = 'this-visit';
  #rows: TakenReviews['reviews'] = [];

  async keepReview(review: ReviewDocument): Promise<Stored<null>> {
    const { id, sessionId } = review;
    const kept = this.#rows.find((row) => row.id === id);
    const keeping = kept === undefined ? 'write' : keepingOver(kept.review, review);
    if (keeping === 'refuse' || keeping === 'write-beside')
      return { ok: false, problem: 'already-kept', detail: `Another review ${id} is kept.` };
    if (keeping === 'write')
      this.#rows = [...this.#rows.filter((row) => row.id !== id), { id, sessionId, review }];
    return STORED;
  }

  async reviewsOf(sessionId: string): Promise<Stored<KeptList<ReviewDocument>>> {
    return { ok: true, value: this.#among((row) => row.sessionId === sessionId) };
  }

  async listReviews(): Promise<Stored<KeptList<ReviewDocument>>> {
    return { ok: true, value: this.#among(() => true) };
  }

  async takeOutReviews(sessionId: string): Promise<Stored<TakenReviews>> {
    const taken = this.#rows.filter((row) => row.sessionId === sessionId);
    this.#rows = this.#rows.filter((row) => row.sessionId !== sessionId);
    return { ok: true, value: { reviews: taken } };
  }

  async putBackReviews({ reviews }: TakenReviews): Promise<Stored<null>> {
    const ids = new Set(reviews.map(({ id }) => id));
    this.#rows = [...this.#rows.filter(({ id }) => !ids.has(id)), ...reviews];
    return STORED;
  }

  #among(isMeant: (row: TakenReviews['reviews'][number]) => boolean): KeptList<ReviewDocument> {
    return reviewsAmong(this.#rows.filter(isMeant).map(({ review }) => review));
  }
}
