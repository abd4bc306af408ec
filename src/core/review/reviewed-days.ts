import type { TrainingDay } from '../plan/training-day.ts';
import type { RecordOpener } from '../session/record-opener.ts';
import { signedReviews } from './change-review.ts';
import { correctedDay } from './corrected-day.ts';
import { correctedSession } from './corrected-session.ts';
import type { ReviewDocument } from './review-document.ts';

/** What signed reviews changed of a training day. */
export interface DayCorrection {
  /** The day as it is kept: what the program measured. */
  readonly recorded: TrainingDay;
  /** Who signed, the last one last. */
  readonly by: readonly { readonly name: string; readonly at: string }[];
  /** Corrected sets that the day has with other figures than the record, so that they could not follow. */
  readonly unmatchedSets: number;
}

/** Training days as they stand after what was signed. */
export interface ReviewedDays {
  /** In the order that was given. */
  readonly days: readonly TrainingDay[];
  /** By the day's id; only days of which something was corrected. */
  readonly corrections: ReadonlyMap<string, DayCorrection>;
}

/** Before any day was looked up. */
export const NO_REVIEWED_DAYS: ReviewedDays = { days: [], corrections: new Map() };

/**
 * Training days with the figures that signed reviews corrected: what everything is weighed by. A review that is not signed
 * changes nothing yet, and what is kept stays as it is. Where a record cannot be had its days stay as they are.
 * @param reviews - all that are kept, or those of the days' sessions
 */
export async function reviewedDays(
  days: readonly TrainingDay[],
  reviews: readonly ReviewDocument[],
  records: RecordOpener,
): Promise<ReviewedDays> {
  const signed = signedReviews(reviews);
  const corrections = new Map<string, DayCorrection>();
  const after: TrainingDay[] = [];
  for (const day of days) {
    let now = day;
    const ids = new Set(day.exercises.flatMap(({ recordId }) => recordId ?? []));
    for (const id of ids) {
      const review = signed.get(id);
      if (!review?.signOff || !review.corrections.some(({ withdrawnAt }) => withdrawnAt === null)) continue;
      const opened = await records.open(id);
      if (!opened.ok) continue;
      const { outline } = opened.value;
      opened.value.close();
      const corrected = correctedDay(now, outline, correctedSession(outline, review));
      if (corrected.changedSets === 0) continue;
      const before = corrections.get(day.id) ?? { recorded: day, by: [], unmatchedSets: 0 };
      corrections.set(day.id, {
        recorded: day,
        by: [...before.by, review.signOff],
        unmatchedSets: before.unmatchedSets + corrected.unmatchedSets,
      });
      now = corrected.day;
    }
    after.push(now);
  }
  return { days: after, corrections };
}
