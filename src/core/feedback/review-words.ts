import type { MisfitReason } from '../review/corrections.ts';
import type { ReviewProblem } from '../review/read-review.ts';
import { documentProblemSentence } from './document-words.ts';

/** Why something could not be opened as a review of a session, and what to do about it. */
export function reviewProblemSentence(problem: ReviewProblem): string {
  return documentProblemSentence(problem, 'review of a session');
}

const MISFITS: Readonly<Record<MisfitReason, string>> = {
  'not-in-record': 'the record has nothing at that place',
  'replaced-before': 'another correction has replaced what it corrects already',
  'stands-on-nothing': 'it corrects what a withdrawn correction had put in place',
  elsewhere: 'what it puts in place lies elsewhere than what it corrects',
  overlaps: 'what it puts in place would lie over another one',
  'not-neighbours': 'another one lies between the two that it joins',
  'other-record': 'the review was made of this session with other findings',
};

/** Why a correction is not done. It is kept all the same. */
export function misfitSentence(why: MisfitReason): string {
  return `This correction is not done, because ${MISFITS[why]}. It is kept in the review; look at the place again and correct it anew if it is still needed.`;
}
