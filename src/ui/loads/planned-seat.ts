import {
  barPullOutcomes,
  holdPullN,
  lightBarPullOutcomes,
  type PullOutcome,
  type SupportShape,
} from '../../core/loads/bar-seat.ts';
import type { PlannedExercise } from '../../core/plan/plan.ts';

/** Said where the pull is drawn for a bar of which the plan says no weight. */
export const LIGHT_BAR_PULL = 'far more than the bar weighs';

/** Which pull keeps a bar in its supports, as the plan describes it. */
export interface PlannedSeat {
  readonly shape: SupportShape;
  readonly outcomes: readonly PullOutcome[];
  readonly pulledWith: string;
}

/** What the plan says of the supports of an exercise's bar; null where it says nothing. */
export function plannedSeat(planned: PlannedExercise): PlannedSeat | null {
  if (planned.exercise === 'hold' && planned.equipment !== null) {
    const pullN = holdPullN(planned.equipment);
    return {
      shape: planned.equipment.supportShape,
      outcomes: barPullOutcomes(planned.equipment, pullN),
      pulledWith: `${Math.round(pullN)} N at each hand`,
    };
  }
  const shape = planned.exercise === 'body-curl' ? planned.equipment?.supportShape : undefined;
  return shape === undefined
    ? null
    : { shape, outcomes: lightBarPullOutcomes(shape), pulledWith: LIGHT_BAR_PULL };
}
