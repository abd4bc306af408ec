import type { Compared } from '../review/odd-repetitions.ts';

const WORDS: Readonly<Record<Compared, string>> = {
  range: 'range unlike the others',
  bending: 'bending time unlike the others',
  lowering: 'lowering time unlike the others',
};

/** In what a repetition is unlike the others of its set. */
export function unlikeWords(what: Compared): string {
  return WORDS[what];
}

/** How it is told that a repetition is unlike the others. */
export const UNLIKE_MEANING =
  'Unlike the others: further from the median of the set’s full repetitions than three times their usual spread, and than 10 deg or 0.5 s; told from four full repetitions on.';
