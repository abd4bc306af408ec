import type { ClipOutline } from '../../../demo-clips/generator/scenario.ts';
import type { ExerciseSettings } from '../../../src/core/exercises/exercise.ts';

/** How a movement is grouped: standing curls with a weight and with a band are one. */
export type Movement = 'standing' | 'hold' | 'body-curl';

/** The group of an exercise. */
export function movementOf({ exercise }: Pick<ClipOutline, 'exercise'>): Movement {
  return exercise === 'hold' || exercise === 'body-curl' ? exercise : 'standing';
}

/** What the person would have set for this scene: the stature is known to the centimetre. */
export function settingsOf({ exercise, side, people: [{ body }] }: ClipOutline): ExerciseSettings {
  return {
    exercise,
    side,
    statureCm: Math.round(body.statureM * 100),
    variant: exercise === 'band-curl' ? 'supinated' : null,
  };
}
