import { thresholdsOf } from '../plan/planned-thresholds.ts';
import type { MeasuredPlannedExercise } from '../plan/plan.ts';
import type { Side } from '../pose/landmark.ts';
import type { Prescription } from './messages.ts';

/** What is asked for of an exercise; dose: how much of it, in words, or null where that is said aloud. */
export function prescriptionOf(
  planned: MeasuredPlannedExercise,
  side: Side,
  dose: string | null,
): Prescription {
  return {
    exercise: planned.exercise,
    side,
    variant: planned.exercise === 'band-curl' ? planned.variant : null,
    thresholds: thresholdsOf(planned),
    dose,
  };
}
