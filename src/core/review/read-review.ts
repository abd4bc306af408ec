import { parseGuarded, type GuardedProblem } from '../documents/guarded-text.ts';
import { readDocument, type DocumentKind } from '../documents/read-document.ts';
import { migrationsUpTo } from '../documents/stepwise-migration.ts';
import {
  REVIEW_FORMAT,
  REVIEW_VERSION,
  reviewDocumentSchema,
  type ReviewDocument,
} from './review-document.ts';

/** Characters that the text of a review may have at most: far more than a session of forty sets written full has. */
const MOST_CHARACTERS = 8_000_000;

/** Why something is no review that can be used. The sentences stand in feedback/review-words.ts. */
export type ReviewProblem = GuardedProblem;

/** A review, or why there is none. */
export type ReviewReading =
  | { readonly ok: true; readonly review: ReviewDocument }
  | { readonly ok: false; readonly problem: ReviewProblem };

/** A new version adds its step here and a sample of the version before in tests/fixtures/reviews. */
const REVIEW: DocumentKind<typeof reviewDocumentSchema> = {
  format: REVIEW_FORMAT,
  version: REVIEW_VERSION,
  steps: migrationsUpTo(REVIEW_VERSION, []),
  schema: reviewDocumentSchema,
  whole: 'the whole review',
};

/** Reads a review from the text of a file: the one gate for every review that comes from outside. */
export function readReview(text: string): ReviewReading {
  const parsed = parseGuarded(text, MOST_CHARACTERS);
  return parsed.ok ? readReviewValue(parsed.value) : parsed;
}

/** The same for a value that has been parsed, as from the browser's own store. */
export function readReviewValue(value: unknown): ReviewReading {
  const reading = readDocument(value, REVIEW);
  return reading.ok ? { ok: true, review: reading.value } : reading;
}
