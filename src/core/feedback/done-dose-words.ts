import type { SummedDose } from '../plan/done-dose.ts';
import { loadWords, quantityWords } from './statics-words.ts';

/** The names of what is summed, as tables head them. */
export const DOSE_NAMES = {
  timeUnderTension: quantityWords('time-under-tension').name,
  elbowImpulse: quantityWords('elbow-impulse').name,
} as const;

/** A summed dose with its span, and of how many sets where not all have it: "540 N m s (300 to 800), from 5 of 6 sets". */
export function summedDoseWords(dose: SummedDose | null): string {
  if (dose === null) return 'not known';
  const { figure, setsWithFigure, setCount } = dose;
  return setsWithFigure === setCount
    ? loadWords(figure)
    : `${loadWords(figure)}, from ${setsWithFigure} of ${setCount} sets`;
}

/** What the doses are estimates of; stands wherever they are shown. */
export const DOSE_MEANING = [
  quantityWords('time-under-tension').estimateOf,
  quantityWords('elbow-impulse').estimateOf,
  'The moment is known only where the plan describes the equipment.',
].join(' ');
