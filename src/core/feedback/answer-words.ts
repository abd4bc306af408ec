import type { AskedSet } from '../plan/asked-done.ts';
import type { DoneSet, HardestPlace, PainPlace } from '../plan/training-day.ts';

/** Where a set was hardest, in the words of the question. */
export const HARDEST_WORDS: Readonly<Record<HardestPlace, string>> = {
  straight: 'near straight',
  middle: 'in the middle',
  bent: 'near bent',
  'the-same': 'the same throughout',
};

/** Where pain was felt, in the words of the question. */
export const PAIN_PLACE_WORDS: Readonly<Record<PainPlace, string>> = {
  'crook-of-elbow': 'crook of the elbow',
  'upper-arm': 'upper arm',
  shoulder: 'shoulder',
  forearm: 'forearm',
  'wrist-or-hand': 'wrist or hand',
  elsewhere: 'elsewhere',
};

/** What a set asks for: "30 s", "8 repetitions". */
export function askedWords({ amount, unit }: Pick<AskedSet, 'amount' | 'unit'>): string {
  if (unit === 'seconds') return `${amount} s`;
  return amount === 1 ? '1 repetition' : `${amount} repetitions`;
}

/** What was done of a set, as measured or as said: "28 s", "7 and 1 partial", "8, as said". */
export function doneWords({ measured, saidDone }: DoneSet): string {
  const heldSeconds = measured?.heldSeconds ?? null;
  if (heldSeconds !== null) return `${heldSeconds.toFixed(0)} s`;
  const repetitions = measured?.repetitions ?? null;
  const partial = measured?.partialRepetitions ?? 0;
  if (repetitions !== null)
    return partial === 0 ? String(repetitions) : `${repetitions} and ${partial} partial`;
  const saidSeconds = saidDone?.holdSeconds ?? null;
  if (saidSeconds !== null) return `${saidSeconds} s, as said`;
  const saidRepetitions = saidDone?.repetitions ?? null;
  return saidRepetitions === null ? 'not measured' : `${saidRepetitions}, as said`;
}

/** Time that is left: "1:05", "0:09". */
export function clockWords(seconds: number): string {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}
