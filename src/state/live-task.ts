import type { ExerciseSettings } from '../core/exercises/exercise.ts';
import { DEFAULT_THRESHOLDS, type Thresholds } from '../core/exercises/thresholds.ts';
import type { FollowedPlan } from '../core/plan/plan.ts';

/** What is done in a session: of whom, judged by what, and by which plan. */
export interface LiveTask {
  readonly exercise: ExerciseSettings;
  readonly thresholds: Thresholds;
  /** The exercise of a plan that is done; null without a plan. */
  readonly plan: FollowedPlan | null;
}

/** An exercise that no plan asks for. */
export function freeTask(exercise: ExerciseSettings): LiveTask {
  return { exercise, thresholds: DEFAULT_THRESHOLDS, plan: null };
}

/** The target range of the elbow, degrees; null where the exercise has none. */
export function targetRange({
  exercise: { exercise },
  thresholds: { targetAngleDeg, toleranceDeg },
}: LiveTask): { readonly low: number; readonly high: number } | null {
  return exercise === 'hold'
    ? { low: targetAngleDeg - toleranceDeg, high: targetAngleDeg + toleranceDeg }
    : null;
}
