import type { HardestPlace } from '../plan/training-day.ts';

/** Where a set was hardest, in the words of the question. */
export const HARDEST_WORDS: Readonly<Record<HardestPlace, string>> = {
  straight: 'near straight',
  middle: 'in the middle',
  bent: 'near bent',
  'the-same': 'the same throughout',
};
