import type { Exercise } from '../exercises/exercise.ts';
import type { NotYet } from '../exercises/hands-free.ts';

/** The posture in which a set of each exercise starts, as an instruction. */
const START_POSTURES: Readonly<Record<Exercise, string>> = {
  hold: 'Bend the elbow to the target with the hand under the bar. Do not pull yet.',
  'body-curl': 'Take the bar and lean back with long arms.',
  'band-curl': 'Stand upright and let the arm hang.',
  'free-curl': 'Stand upright and let the arm hang.',
};

/** The same in so few letters (15) that they are read from three metres. */
const SHORT_POSTURES: Readonly<Record<Exercise, string>> = {
  hold: 'Bend to target',
  'body-curl': 'Lean back',
  'band-curl': 'Let arm hang',
  'free-curl': 'Let arm hang',
};

/** What a person is to do so that the next set starts by itself, in 15 letters; empty where that is not up to them. */
export function startsByItselfShort(
  notYet: NotYet | null,
  exercise: Exercise,
  secondsToStart: number | null,
): string {
  switch (notYet) {
    case 'posture':
      return SHORT_POSTURES[exercise];
    case 'moving':
      return 'Stay still';
    case 'counting':
      return `Stay still, ${secondsToStart ?? 0} s`;
    case 'may-not':
    case 'view':
    case null:
      return '';
  }
}

/** What a person is to do so that the next set starts by itself; empty where that is not up to them. */
export function startsByItselfWords(
  notYet: NotYet | null,
  exercise: Exercise,
  secondsToStart: number | null,
): string {
  switch (notYet) {
    case 'posture':
      return `${START_POSTURES[exercise]} Stay still, and the set starts.`;
    case 'moving':
      return 'Stay still, and the set starts.';
    case 'counting':
      return `Stay still: the set starts in ${secondsToStart ?? 0} s.`;
    case 'may-not':
    case 'view':
    case null:
      return '';
  }
}
