import type { KeptList } from '../../core/plan/plan-store.ts';
import { keepingOver, reviewsAmong } from '../../core/review/kept-reviews.ts';
import type { ReviewDocument } from '../../core/review/review-document.ts';
import type { ReviewStore, TakenReviews } from '../../core/review/review-store.ts';
import { STORED, type Stored } from '../../core/stored.ts';
import { moveAside } from './move-aside.ts';
import { failed, onDatabase } from './on-database.ts';
import type { SessionDatabase } from './session-database.ts';

/** Reviews of sessions in the browser's database. */
export class IdbReviewStore implements ReviewStore {
  readonly lasts = 'on-this-machine';
  readonly #db: SessionDatabase;

  constructor(db: SessionDatabase) {
    this.#db = db;
  }

  keepReview(review: ReviewDocument): Promise<Stored<null>> {
    const { reviews, aside } = this.#db;
    const { id, sessionId } = review;
    return onDatabase(this.#db, () =>
      this.#db.transaction('rw', reviews, aside, async () => {
        const kept = await reviews.get(id);
        const keeping = kept === undefined ? 'write' : keepingOver(kept.review, review);
        if (keeping === 'refuse') return failed('already-kept', `Another review ${id} is kept.`);
        if (keeping === 'write-beside') await moveAside(this.#db, 'reviews', id, kept);
        if (keeping !== 'leave') await reviews.put({ id, sessionId, review });
        return STORED;
      }),
    );
  }

  reviewsOf(sessionId: string): Promise<Stored<KeptList<ReviewDocument>>> {
    return onDatabase(this.#db, async () => {
      const rows = await this.#db.reviews.where({ sessionId }).toArray();
      return { ok: true, value: reviewsAmong(rows.map(({ review }) => review)) };
    });
  }

  listReviews(): Promise<Stored<KeptList<ReviewDocument>>> {
    return onDatabase(this.#db, async () => {
      const rows = await this.#db.reviews.toArray();
      return { ok: true, value: reviewsAmong(rows.map(({ review }) => review)) };
    });
  }

  takeOutReviews(sessionId: string): Promise<Stored<TakenReviews>> {
    const { reviews } = this.#db;
    return onDatabase(this.#db, () =>
      this.#db.transaction('rw', reviews, async () => {
        const taken = await reviews.where({ sessionId }).toArray();
        await reviews.where({ sessionId }).delete();
        return { ok: true, value: { reviews: taken } };
      }),
    );
  }

  putBackReviews({ reviews }: TakenReviews): Promise<Stored<null>> {
    return onDatabase(this.#db, async () => {
      await this.#db.reviews.bulkPut([...reviews]);
      return STORED;
    });
  }
}
