import { leastAndMost, type MeasuredHandShare } from '../loads/measured-body-curl.ts';
import { loadSpanWords, loadValueWords } from './statics-words.ts';

/** What the hands hold over the measured repetitions, least and most, in one sentence; null where no angle has a figure. */
export function handShareSentence(shares: readonly MeasuredHandShare[]): string | null {
  const ends = leastAndMost(shares);
  if (ends === null) return null;
  const at = ({ flexionDeg, handShare }: MeasuredHandShare): string =>
    `${loadValueWords(handShare)} ${loadSpanWords(handShare)}`.trim() +
    ` of body weight about ${flexionDeg} deg`;
  if (ends.least === ends.most)
    return `Over the measured repetitions the hands hold ${at(ends.most)}, together.`;
  return `Over the measured repetitions the hands hold between ${at(ends.least)} and ${at(ends.most)}, together.`;
}

/** Stands in place of the figures where no picture gave one. */
export const NO_HAND_SHARE =
  'Body weight at the hands is not known: feet, hands and shoulders were not all seen in the repetitions, or no force at the hands can hold the body as it was seen.';

/** Stands beside the shares where the plan does not say who hangs from the bar. */
export const NO_HANGING_PERSON =
  'The force at each hand is not given: no plan with the body mass and the hands of this curl goes with the record.';
