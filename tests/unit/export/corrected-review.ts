import { partsFor, NO_VERDICT, withVerdict } from '../../../src/core/review/make-correction.ts';
import type { Repetition } from '../../../src/core/exercises/judgement.ts';
import type { ReviewDocument } from '../../../src/core/review/review-document.ts';
import { correction, judgeByHandHere, judgement, LATER, refTo, review } from '../review/sample-review.ts';

function only<Item>(items: readonly Item[] | undefined): Item {
  const [item] = items ?? [];
  if (item === undefined || items?.length !== 1) throw new Error('The sample cannot be corrected so.');
  return item;
}

const at = (index: number): Repetition => only(judgement.repetitions.slice(index, index + 1));
const whole = only(judgeByHandHere(partsFor({ kind: 'join' }, [at(1), at(2)]) ?? [])?.repetitions);
const row = withVerdict(whole, { ...NO_VERDICT, shoulderDominant: true });

const joined = correction(1, 'join', [refTo(1), refTo(2)], [whole]);
const rejudged = correction(2, 'rejudge', [{ from: 'correction', correctionId: joined.id, part: 0 }], [row]);

/**
 * An invented review: of the curls the second and third were one, which was a row; the fourth was none; that the first was
 * none was taken back.
 */
export const CORRECTED_REVIEW: ReviewDocument = review([
  { ...joined, reason: 'It was one, with a halt.' },
  { ...rejudged, reason: 'The upper arm swung back.' },
  { ...correction(3, 'discard', [refTo(3)]), reason: 'It was a stretch.' },
  { ...correction(4, 'discard', [refTo(0)]), withdrawnAt: LATER },
]);
