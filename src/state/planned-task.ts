import { isMeasuredExercise, type Plan, type PlannedExercise } from '../core/plan/plan.ts';
import { thresholdsOf } from '../core/plan/planned-thresholds.ts';
import type { LiveTask } from './live-task.ts';

/** An exercise of a plan as it is measured on a training day; null where it is not measured. */
export function plannedTask(plan: Plan, planned: PlannedExercise, dayId: string): LiveTask | null {
  if (!isMeasuredExercise(planned)) return null;
  const { treatedSide, statureCm } = plan.person;
  return {
    exercise: {
      exercise: planned.exercise,
      side: treatedSide,
      statureCm,
      variant: planned.exercise === 'band-curl' ? planned.variant : null,
    },
    thresholds: thresholdsOf(planned),
    plan: {
      planId: plan.id,
      planVersion: plan.version,
      stageKey: plan.stageKey,
      exerciseKey: planned.key,
      dayId,
    },
  };
}
