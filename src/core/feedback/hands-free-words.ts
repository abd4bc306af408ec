import type { Exercise } from '../exercises/exercise.ts';
import type { NotYet } from '../exercises/hands-free.ts';

/** An instruction in at most 15 letters, and the same as sentences. */
interface StartWords {
  readonly short: string;
  readonly sentence: string;
}

/** The posture in which a set of each exercise starts: in so few letters (15) that they are read from three metres, and whole. */
const START_POSTURES: Readonly<Record<Exercise, StartWords>> = {
  hold: {
    short: 'Bend to target',
    sentence: 'Bend the elbow to the target with the hand under the bar. Do not pull yet.',
  },
  'body-curl': { short: 'Lean back', sentence: 'Take the bar and lean back with long arms.' },
  'band-curl': { short: 'Let arm hang', sentence: 'Stand upright and let the arm hang.' },
  'free-curl': { short: 'Let arm hang', sentence: 'Stand upright and let the arm hang.' },
};

/** What a person is to do so that the next set starts by itself; null where that is not up to them. */
export function startsByItselfWords(
  notYet: NotYet | null,
  exercise: Exercise,
  secondsToStart: number | null,
): StartWords | null {
  switch (notYet) {
    case 'posture': {
      const { short, sentence } = START_POSTURES[exercise];
      return { short, sentence: `${sentence} Stay still, and the set starts.` };
    }
    case 'moving':
      return { short: 'Stay still', sentence: 'Stay still, and the set starts.' };
    case 'counting': {
      const left = `${secondsToStart ?? 0} s`;
      return { short: `Stay still, ${left}`, sentence: `Stay still: the set starts in ${left}.` };
    }
    case 'may-not':
    case 'view':
    case null:
      return null;
  }
}
