import { EXERCISES, type Exercise, type Variant } from '../../core/exercises/exercise.ts';
import type { Side } from '../../core/pose/landmark.ts';
import { exerciseWords } from '../lookback/record-words.ts';

const NOTES: Readonly<Record<Exercise, string>> = {
  hold: 'Press up against a bar that stays where it is, elbow near 90 deg.',
  'body-curl': 'Hands stay on the bar, the elbows bend and bring the body to it.',
  'band-curl': 'Bend against an elastic band, lower slowly.',
  'free-curl': 'Bend with a dumbbell, upper arm still, lower slowly.',
};

/** What is offered on Begin, each with what it means for the person who does it. */
export const EXERCISE_OPTIONS: readonly { value: Exercise; label: string; note: string }[] = EXERCISES.map(
  (exercise) => ({ value: exercise, label: exerciseWords(exercise), note: NOTES[exercise] }),
);

/** The two ways of the band curl. */
export const VARIANT_OPTIONS: readonly { value: Variant; label: string; note: string }[] = [
  {
    value: 'supinated',
    label: 'Palm up throughout',
    note: 'The band pulls the hand over; keep the palm up.',
  },
  { value: 'turning', label: 'Palm turning', note: 'Turn the palm up while bending, back while lowering.' },
];

/** The treated arm, said to the person whose arm it is. */
export const SIDE_OPTIONS: readonly { value: Side; label: string }[] = [
  { value: 'left', label: 'Your left arm' },
  { value: 'right', label: 'Your right arm' },
];
