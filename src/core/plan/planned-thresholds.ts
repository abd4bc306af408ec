import {
  DEFAULT_THRESHOLDS,
  THRESHOLD_NAMES,
  THRESHOLD_TABLE,
  type Thresholds,
} from '../exercises/thresholds.ts';
import { clamp } from '../math/statistics.ts';
import type { MeasuredPlannedExercise } from './plan.ts';

/**
 * A lowering counts as fast under this share of the planned one: the usual threshold of 2 s stands to the 3 s of slow
 * resistance programmes in this way. Common practice, no source.
 */
const FAST_SHARE_OF_PLANNED = 2 / 3;

/**
 * Every threshold of a planned exercise: the therapist's where one is set, else what follows from the dose and the planned
 * range, else the default.
 */
export function thresholdsOf(exercise: MeasuredPlannedExercise): Thresholds {
  const { dose, thresholds } = exercise;
  const range = exercise.exercise === 'hold' ? null : exercise.range;
  const { min, max } = THRESHOLD_TABLE.shortestLoweringSeconds;
  const resolved = {
    ...DEFAULT_THRESHOLDS,
    plannedStartFlexionDeg: range?.startFlexionDeg ?? null,
    plannedTopFlexionDeg: range?.topFlexionDeg ?? null,
  };
  if (dose.kind === 'repetitions')
    resolved.shortestLoweringSeconds = clamp(dose.loweringSeconds * FAST_SHARE_OF_PLANNED, min, max);
  for (const name of THRESHOLD_NAMES) resolved[name] = thresholds[name] ?? resolved[name];
  return resolved;
}
