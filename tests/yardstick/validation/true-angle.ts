import type { ExerciseSettings } from '../../../src/core/exercises/exercise.ts';
import { judgeSet } from '../../../src/core/exercises/judge-set.ts';
import type { SetJudgement } from '../../../src/core/exercises/judgement.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import type { KinematicSeries } from '../../../src/core/kinematics/kinematic-frame.ts';
import { estimate } from '../../../src/core/kinematics/measured.ts';
import type { TruthFrame } from '../truth.ts';

/** By how much the true angle is read wrong through a whole set, degrees, to see what that costs. */
export const ANGLE_OFFSETS_DEG = [-4, -2, -1, 0, 1, 2, 4] as const;

/**
 * What judging makes of a set when the elbow's angle is the true one, or that read wrong by the same everywhere: what is
 * then amiss is judging's own, the rest is the angle's.
 */
export function judgedByTrueAngle(
  series: KinematicSeries,
  truths: readonly TruthFrame[],
  settings: ExerciseSettings,
  offsetDeg: number,
): SetJudgement {
  const frames = series.frames.flatMap((frame, i) => {
    const truth = truths[i];
    if (truth === undefined) return [];
    const elbowFlexionDeg = estimate(Math.max(0, truth.elbowFlexionDeg + offsetDeg), 0);
    return [{ ...frame, reason: null, elbowFlexionDeg }];
  });
  return judgeSet({ ...series, frames }, settings, DEFAULT_THRESHOLDS);
}

/** Time in the range over all holds of a set, seconds. */
export function heldSeconds({ holds }: SetJudgement): number {
  return holds.reduce((sum, { inRangeSeconds }) => sum + inRangeSeconds, 0);
}
