import type { ExerciseSettings } from '../exercises/exercise.ts';
import { viewOutline, type ViewOutline } from '../exercises/view-outline.ts';
import type { PoseFrame } from '../pose/pose-frame.ts';
import { setupFacts } from '../pose/setup-facts.ts';
import { sharedAdvice } from './shared-advice.ts';
import { setupAdvice, type SetupAdvice } from './setup-advice.ts';

/** What one picture tells of the view: what to change, and where what must be seen lies. */
export interface LookAtView {
  readonly advice: SetupAdvice;
  /** Null without a person. */
  readonly outline: ViewOutline | null;
}

/** Looks at one picture for an exercise with the treated arm of a side. isShared: the picture is that of a call, and whoever reads looks on. */
export function lookAtView(
  frame: PoseFrame,
  { side, exercise }: Pick<ExerciseSettings, 'side' | 'exercise'>,
  isShared: boolean,
): LookAtView {
  const advice = setupAdvice(setupFacts(frame, side), side, exercise);
  return {
    advice: isShared ? sharedAdvice(advice, side) : advice,
    outline: viewOutline(frame, side, exercise),
  };
}
