import type { ClipTruth } from '../../demo-clips/generator/truth-schema.ts';
import type { CueTask } from '../../src/core/feedback/cue-course.ts';
import { CUE_NAMES, type CueName } from '../../src/core/session/cue-log.ts';
import type { Table } from '../demo-check/read-table.ts';

/** A repetition of the truth with the cues that its true movement calls for, the first first. */
export type TruthOfRepetition = ClipTruth['repetitions'][number] & { readonly faults: readonly CueName[] };

/** By so much the truth may miss a threshold and the cue still have its fault: what measuring live errs by. */
export const MEASURING_ERROR = { deg: 5, seconds: 0.4, upperArms: 0.08 } as const;

/** The faults of a repetition by its true movement and the thresholds of the task. */
export function faultsOfRepetition(
  { startS, endS, partial, shoulderDominant, lowerS }: ClipTruth['repetitions'][number],
  truth: ClipTruth,
  table: Table,
  { exercise, thresholds }: CueTask,
): CueName[] {
  const rows = Array.from({ length: table.length }, (_, row) => row).filter((row) => {
    const at = table.number(row, 'time_s') ?? NaN;
    return at >= startS && at <= endS;
  });
  const column = (name: string): number[] => rows.flatMap((row) => table.number(row, name) ?? []);
  const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
  const upperArmDeg = range(column('shoulder_flexion_deg'));
  const forwardDeg = Math.max(...column('shoulder_flexion_deg')) - (column('shoulder_flexion_deg')[0] ?? NaN);
  const swayDeg = range(column('trunk_inclination_deg'));
  const slip =
    Math.hypot(range(column(`${truth.side}_grip_x_m`)), range(column(`${truth.side}_grip_y_m`))) /
    truth.segmentLengthsM.upperArm;
  const { deg, seconds, upperArms } = MEASURING_ERROR;
  const isStanding = exercise === 'band-curl' || exercise === 'free-curl';
  const faults: Partial<Record<CueName, boolean>> = {
    'hands-in-place': exercise === 'body-curl' && slip >= thresholds.handSlipUpperArms - upperArms,
    'shoulder-led': shoulderDominant,
    'upper-arm-still':
      exercise === 'body-curl' && (shoulderDominant || forwardDeg >= thresholds.upperArmForwardDeg - deg),
    'elbow-by-side': isStanding && upperArmDeg >= thresholds.upperArmMovementDeg - deg,
    'body-still': isStanding && swayDeg >= thresholds.trunkSwayDeg - deg,
    'lower-slowly': lowerS < thresholds.shortestLoweringSeconds + seconds,
    'bend-fully': exercise === 'body-curl' && partial,
  };
  return CUE_NAMES.filter((name) => faults[name] === true);
}

/** Seconds truly held in the target range until a moment of the clip. */
export function secondsHeld({ holdsInRangeS }: ClipTruth, at: number): number {
  return holdsInRangeS.reduce((sum, [start, end]) => sum + Math.max(0, Math.min(at, end) - start), 0);
}
