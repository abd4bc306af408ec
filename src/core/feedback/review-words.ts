import type { ReviewProblem } from '../review/read-review.ts';
import { documentProblemSentence } from './document-words.ts';

/** Why something could not be opened as a review of a session, and what to do about it. */
export function reviewProblemSentence(problem: ReviewProblem): string {
  return documentProblemSentence(problem, 'review of a session');
}
