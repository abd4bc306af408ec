import type { Exercise, Variant } from '../../core/exercises/exercise.ts';
import type { Side } from '../../core/pose/landmark.ts';

/** The exercises by the names that every screen uses, each with what it means for the person who does it. */
export const EXERCISE_OPTIONS: readonly { value: Exercise; label: string; note: string }[] = [
  {
    value: 'hold',
    label: 'Isometric hold',
    note: 'Press up against a bar that stays where it is, elbow near 90\u00a0deg.',
  },
  {
    value: 'body-curl',
    label: 'Body-moving curl',
    note: 'Hands stay on the bar, the elbows bend and bring the body to it.',
  },
  { value: 'band-curl', label: 'Band curl', note: 'Bend against an elastic band, lower slowly.' },
  {
    value: 'free-curl',
    label: 'Free curl',
    note: 'Bend with a dumbbell, upper arm still, lower slowly.',
  },
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

/** What watching cannot do, where the way of the band curl is chosen. */
export const PALM_NOTE = 'The camera cannot tell which way the palm faces: keep to it yourself.';

/** The treated arm, said to the person whose arm it is. */
export const SIDE_OPTIONS: readonly { value: Side; label: string }[] = [
  { value: 'left', label: 'Your left arm' },
  { value: 'right', label: 'Your right arm' },
];
