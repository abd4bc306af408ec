import { isSameValue } from '../plan/same-value.ts';
import type { ReviewDocument } from './review-document.ts';

/** Stands in the patient's copy in place of a reason that was not chosen to go along. */
const REASON_NOT_SENT = 'The reason was not sent.';

/**
 * The copy of a review for the patient: the answer with the drawings that it shows, the corrections that hold and who signed
 * it. Notes, hand-measured angles, other drawings and withdrawn corrections stay with the therapist.
 * @param withReasons - whether the reasons of the corrections go along; they were written for the file
 */
export function copyForPatient(review: ReviewDocument, withReasons = false): ReviewDocument {
  const shown = (review.answer?.moments ?? []).filter(({ withDrawings }) => withDrawings);
  return {
    ...review,
    scope: 'for-patient',
    corrections: review.corrections
      .filter(({ withdrawnAt }) => withdrawnAt === null)
      .map((correction) => (withReasons ? correction : { ...correction, reason: REASON_NOT_SENT })),
    notes: [],
    handAngles: [],
    drawings: review.drawings.filter(({ place }) =>
      shown.some(
        (moment) =>
          moment.place.setIndex === place.setIndex && moment.place.timeSeconds === place.timeSeconds,
      ),
    ),
  };
}

/** True when a copy says nothing that the whole review does not say. */
export function isCopyOf(copy: ReviewDocument, whole: ReviewDocument): boolean {
  return [false, true].some((withReasons) => isSameValue(copyForPatient(whole, withReasons), copy));
}

/** True of two copies of one review when the other says the reasons as well that this one leaves out. */
export function isFullerCopy(copy: ReviewDocument, other: ReviewDocument): boolean {
  return (
    copy.scope === 'for-patient' &&
    other.scope === 'for-patient' &&
    !isSameValue(copy, other) &&
    isSameValue(copy, copyForPatient(other))
  );
}
