import type { Hold, Repetition } from '../exercises/judgement.ts';
import { CORRECTION_COUNTS, type Correction } from '../review/review-document.ts';
import { momentWords } from './measure-words.ts';

const VERBS: Readonly<Record<Correction['kind'], string>> = {
  add: 'Added',
  discard: 'Discarded',
  split: 'Split into two',
  join: 'Joined into one',
  rejudge: 'Judged otherwise',
};

/** What a correction did, for lists: "Split into two: repetition at 12.30 s". Sets are counted from 1. */
export function correctionWords({ kind, item, setIndex, targets, instead }: Correction): string {
  const put: readonly (Hold | Repetition)[] = item === 'hold' ? instead.holds : instead.repetitions;
  const [target] = targets;
  const atSeconds = target?.from === 'record' ? target.startSeconds : put[0]?.startSeconds;
  const what = CORRECTION_COUNTS[kind].takes === 2 ? `two ${item}s` : item;
  const at = atSeconds === undefined ? '' : ` at ${momentWords(atSeconds)}`;
  return `${VERBS[kind]}: ${what} in set ${setIndex + 1}${at}`;
}
