import type { Exercise, Variant } from '../../core/exercises/exercise.ts';
import type { Side } from '../../core/pose/landmark.ts';

/** What is offered on Begin, each with what it means for the person who does it. */
export const EXERCISE_OPTIONS: readonly { value: Exercise; label: string; note: string }[] = [
  {
    value: 'hold',
    label: 'Hold at a right angle',
    note: 'Push up against a bar that stays where it is, elbow near 90 deg.',
  },
  {
    value: 'body-curl',
    label: 'Body-moving curl',
    note: 'Hands stay on the bar, the elbows bend and bring the body to it.',
  },
  { value: 'band-curl', label: 'Curl with an elastic band', note: 'Bend against the band, lower slowly.' },
  { value: 'free-curl', label: 'Curl with a dumbbell', note: 'Upper arm still, lower slowly.' },
];

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
