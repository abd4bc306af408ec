import { toDegrees } from '../math/angle.ts';
import { clamp, interpolateTable, quantile } from '../math/statistics.ts';
import { stepHysteresis } from '../signal/hysteresis.ts';
import { RunningMedian } from '../signal/running-median.ts';
import type { GateReason } from '../pose/gate.ts';
import type { PoseFrame } from '../pose/pose-frame.ts';
import { trunkOf, type SidedPose } from '../pose/sided-pose.ts';
import { bodyYawDeg } from '../pose/viewpoint.ts';
import type { ArmPlaneFit } from './arm-plane-fit.ts';
import type { AngleMethod } from './kinematic-frame.ts';
import type { NotMeasuredReason } from './measured.ts';
import { assumedFocalPx } from './plane-projection.ts';

/**
 * Beyond this yaw, degrees, angles are refused. Simulated bodies: at 52 deg the elbow was still off by 4 standing and by
 * 6 under a bar; on rendered figures half the sets at 60 deg were off by more than ten.
 */
const OBLIQUE_LIMIT_DEG = 54;

/**
 * Scatter of the estimated yaw about the true one, one standard deviation, degrees, and the yaws it stands at.
 * Trial on rendered figures: mean errors of 1.8 to 5 degrees standing, about 5 lying.
 */
const YAW_SD_DEG = { yaw: [0, 15, 30, 45, 60], sd: [5, 5, 6, 8, 11] };

/** From this yaw on, degrees, it is the other side that is near, and that is what is said. */
const OTHER_SIDE_DEG = 115;

/** A body turned by more than this, degrees, from how it stood has its arm in another plane. */
const TURNED_DEG = 15;

/** Whether the body has turned away from a yaw, both in degrees; not when either is unknown. */
export function isTurned(nowDeg: number | null, fromDeg: number | null): boolean {
  return nowDeg !== null && fromDeg !== null && Math.abs(nowDeg - fromDeg) > TURNED_DEG;
}

/** Reasons that leave the trunk to be measured, which an oblique view does not. */
const ARM_REASONS: ReadonlySet<GateReason> = new Set(['arm-not-seen', 'outside-picture', 'too-small']);

/** Two levels about the limit, so that a view near it is not measured by fits and starts. */
const OBLIQUE_LEVELS_DEG = { on: OBLIQUE_LIMIT_DEG + 2, off: OBLIQUE_LIMIT_DEG - 3 };

/** Whether the view is too oblique now, from whether it was and how the body stands, degrees. */
export function stepOblique(wasOblique: boolean, localYawDeg: number | null): boolean {
  return stepHysteresis(wasOblique, Math.abs(localYawDeg ?? NaN), OBLIQUE_LEVELS_DEG);
}

/**
 * Why a picture is refused, of what the gate says and how the body stands about it: a view from the front or the back
 * is too oblique for either arm, whichever is a little nearer.
 */
export function reasonInView(
  reason: GateReason | null,
  isOblique: boolean,
  localYawDeg: number | null,
): NotMeasuredReason | null {
  if (!isOblique) return reason;
  if (reason === 'wrong-side') return Math.abs(localYawDeg ?? 0) < OTHER_SIDE_DEG ? 'too-oblique' : reason;
  return reason === null || ARM_REASONS.has(reason) ? 'too-oblique' : reason;
}

/** Scatter of a yaw that could not be had: people are asked to stand square to the camera. */
const UNKNOWN_YAW_SD_DEG = 15;

/** How the camera looks at the arm's plane, as geometry needs it. */
export interface View {
  /** Signed, positive when the front shows; null when it could not be had, then taken as square. */
  readonly yawDeg: number | null;
  /** The turn that is taken out of the picture, degrees; 0 near a square view. */
  readonly usedYawDeg: number;
  readonly yawSdDeg: number;
  readonly method: AngleMethod;
}

/**
 * The turn that is taken out for an estimated one: less by what scatter alone would give, nothing at all within one
 * standard deviation of square. Near a square view noise in the turn costs more than the turn itself.
 */
function usedYaw(yawDeg: number, sdDeg: number): number {
  return Math.sign(yawDeg) * Math.sqrt(Math.max(0, yawDeg ** 2 - sdDeg ** 2));
}

/** The view for an estimated yaw, degrees, or null when there is none. */
export function viewAt(yawDeg: number | null): View {
  const turn = Math.abs(yawDeg ?? 0);
  const yawSdDeg =
    yawDeg === null ? UNKNOWN_YAW_SD_DEG : interpolateTable(YAW_SD_DEG.yaw, YAW_SD_DEG.sd, turn);
  const usedYawDeg = usedYawWithin(yawDeg ?? 0, yawSdDeg);
  return {
    yawDeg,
    usedYawDeg,
    yawSdDeg,
    method: usedYawDeg === 0 ? 'image-plane' : 'turned-image-plane',
  };
}

/**
 * The view of a set whose arm plane was fitted: the turn of the body as it is after the fit. The plain view where no
 * picture of the arm was fitted.
 */
export function viewByPlane(plain: View, fit: ArmPlaneFit): View {
  if (fit.fittedFrames === 0) return plain;
  const { bodyYawDeg: yawDeg, bodyYawSdDeg: yawSdDeg } = fit;
  return { yawDeg, usedYawDeg: usedYawWithin(yawDeg, yawSdDeg), yawSdDeg, method: 'set-plane' };
}

/**
 * By how much the fit of the arm's plane turned the body, degrees. It knows better than a picture's body lines how the
 * body stands: what it turned the set, it turns each picture.
 */
export function correctionByPlane(plain: View, fitted: View): number {
  return (fitted.yawDeg ?? 0) - (plain.yawDeg ?? 0);
}

function usedYawWithin(yawDeg: number, sdDeg: number): number {
  return usedYaw(clamp(yawDeg, -OBLIQUE_LIMIT_DEG, OBLIQUE_LIMIT_DEG), sdDeg);
}

/**
 * Turn of the body against the camera's axis, degrees: what the body's own lines show, which is against the line of
 * sight to the person, and how far that line lies from the picture's middle. Null when the body shows none.
 */
export function cameraYawDeg(pose: SidedPose, frame: PoseFrame): number | null {
  const local = bodyYawDeg(pose);
  if (local === null) return null;
  const focalPx = assumedFocalPx(frame.widthPx, frame.heightPx);
  return local + toDegrees(Math.atan((trunkOf(pose).middle.forward - frame.widthPx / 2) / focalPx));
}

/** A yaw estimate of one picture, degrees, at its time; null where there is none. */
export interface TimedYaw {
  readonly timeSeconds: number;
  readonly yawDeg: number | null;
}

/** Half the window over which a picture's own view is judged, seconds. */
const LOCAL_HALF_WINDOW_SECONDS = 1.5;

/**
 * Running median of the yaw about each picture, degrees; null where the window holds none. A single picture's yaw
 * scatters too much to refuse it by.
 */
export function localYaws(yaws: readonly TimedYaw[]): (number | null)[] {
  const within = new RunningMedian();
  let from = 0;
  let to = 0;
  return yaws.map(({ timeSeconds }) => {
    for (; (yaws[to]?.timeSeconds ?? Infinity) <= timeSeconds + LOCAL_HALF_WINDOW_SECONDS; to++) {
      const yawDeg = yaws[to]?.yawDeg ?? null;
      if (yawDeg !== null) within.add(yawDeg);
    }
    for (; (yaws[from]?.timeSeconds ?? Infinity) < timeSeconds - LOCAL_HALF_WINDOW_SECONDS; from++) {
      const yawDeg = yaws[from]?.yawDeg ?? null;
      if (yawDeg !== null) within.remove(yawDeg);
    }
    return within.median;
  });
}

/**
 * The yaw of a set: the median over the pictures that are not too oblique, so that walking in or turning round
 * afterwards does not bend it; over all of them when every picture is too oblique. Null when none has a yaw.
 */
export function setYawDeg(local: readonly (number | null)[]): number | null {
  const known = local.filter((yaw) => yaw !== null);
  const usable = known.filter((yaw) => Math.abs(yaw) <= OBLIQUE_LIMIT_DEG);
  return quantile(usable.length > 0 ? usable : known, 0.5);
}
