import { USUAL_RANGE, type LoadedExercise } from '../loads/loaded-exercise.ts';
import type { HangingPerson } from '../loads/measured-body-curl.ts';
import type { Plan, PlannedExercise, PlanPerson } from './plan.ts';
import { thresholdsOf } from './planned-thresholds.ts';

/**
 * A planned exercise as statics takes it: a hold at its target angle, a repetition over its planned range or the usual one.
 * setDose and demandCurve work on it.
 * @returns null where nothing is known of what it is done with
 */
export function plannedLoad(exercise: PlannedExercise, person: PlanPerson): LoadedExercise | null {
  if (!('equipment' in exercise) || exercise.equipment === null) return null;
  const { equipment } = exercise;
  const { statureCm, bodyMassKg } = person;
  if (exercise.exercise === 'hold') {
    const { targetAngleDeg } = thresholdsOf(exercise);
    const range = { startFlexionDeg: targetAngleDeg, topFlexionDeg: targetAngleDeg };
    return { equipment, person: { statureCm, bodyMassKg }, variant: null, range };
  }
  return {
    equipment,
    person: { statureCm, bodyMassKg },
    variant: exercise.exercise === 'band-curl' ? exercise.variant : null,
    range: exercise.range ?? USUAL_RANGE,
  };
}

/** Who hangs from the bar in a planned body-moving curl, and by how many hands; null where the plan does not say both. */
export function hangingPerson({ stages, person }: Plan, exerciseKey: string): HangingPerson | null {
  const planned = stages.flatMap(({ exercises }) => exercises).find(({ key }) => key === exerciseKey);
  if (planned?.exercise !== 'body-curl' || planned.equipment === null || person.bodyMassKg === null)
    return null;
  return { bodyMassKg: person.bodyMassKg, hands: planned.equipment.hands };
}
