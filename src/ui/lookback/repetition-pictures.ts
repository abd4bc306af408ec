import type { Repetition } from '../../core/exercises/judgement.ts';
import { unlikeWords } from '../../core/feedback/unlike-words.ts';
import { unlikeOthers } from '../../core/review/odd-repetitions.ts';
import type { RepetitionPicture } from '../charts/repetition-picture.ts';

/**
 * The repetitions of a set for their small pictures, with what sets each apart.
 * @param corrected - true in the places of those that somebody corrected
 */
export function repetitionPictures(
  repetitions: readonly Repetition[],
  corrected: readonly boolean[],
): RepetitionPicture[] {
  const unlike = unlikeOthers(repetitions);
  return repetitions.map((repetition, index) => ({
    number: index + 1,
    startSeconds: repetition.startSeconds,
    loweringStartSeconds: repetition.loweringStartSeconds,
    endSeconds: repetition.endSeconds,
    loweringSeconds: repetition.loweringSeconds,
    odd: [
      ...(repetition.partial ? ['partial'] : []),
      ...(repetition.shoulderDominant === true ? ['shoulder-dominant'] : []),
      ...(unlike[index] ?? []).map(unlikeWords),
    ],
    isCorrected: corrected[index] === true,
  }));
}
