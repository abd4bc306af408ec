import type { Exercise } from '../exercises/exercise.ts';
import { CUE_NAMES, type CueName } from '../session/cue-log.ts';
import { CUE_TABLE } from './cue-table.ts';

/** The usual cues that a therapist can give in an exercise, with their words: all that need no figure. */
export function cuesToGive(exercise: Exercise): readonly { readonly cue: CueName; readonly words: string }[] {
  return CUE_NAMES.filter((cue) => isToGive(cue, exercise)).map((cue) => ({
    cue,
    words: CUE_TABLE[cue].shown,
  }));
}

function isToGive(cue: CueName, exercise: Exercise): boolean {
  const { priority, shown, exercises } = CUE_TABLE[cue];
  const isAdvice =
    ['safety', 'correction', 'praise'].includes(priority) || cue === 'breathe' || cue === 'hold-done';
  return isAdvice && !shown.includes('#') && exercises.includes(exercise);
}
