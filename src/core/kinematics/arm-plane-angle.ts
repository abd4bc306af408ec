import { toRadians } from '../math/angle.ts';
import type { ArmPlaneFit } from './arm-plane-fit.ts';
import { ARM_PLANE } from './arm-plane-limits.ts';
import {
  flexionInPlaneDeg,
  obliquenessDeg,
  planeNormal,
  steepness,
  type ArmPlane,
  type ArmRays,
  type Vector,
} from './arm-plane.ts';
import { Z95 } from './intervals.ts';
import { estimate, notMeasured, type Measured } from './measured.ts';

/** Steps of the numeric derivatives: degrees, upper-arm lengths. */
const STEP_DEG = 0.05;
const STEP_SHORT = 1e-3;
const STEP_UPPER_ARMS = 1e-3;

/** How the angle changes with yaw and tilt (per degree) and with the elbow's shortfall (per upper-arm length). */
function byPlane(rays: ArmRays, plane: ArmPlane, atDeg: number): number[] {
  return [
    (flexionInPlaneDeg(rays, { ...plane, yawDeg: plane.yawDeg + STEP_DEG }) - atDeg) / STEP_DEG,
    (flexionInPlaneDeg(rays, { ...plane, tiltDeg: plane.tiltDeg + STEP_DEG }) - atDeg) / STEP_DEG,
    (flexionInPlaneDeg(rays, { ...plane, elbowShort: plane.elbowShort + STEP_SHORT }) - atDeg) / STEP_SHORT,
  ];
}

/** Variance of the angle, square degrees, by points that scatter by pointSd upper-arm lengths across the picture. */
function byScatter(rays: ArmRays, fit: ArmPlaneFit, atDeg: number, pointSd: number): number {
  const raysPerUpperArm = fit.upperArmLength * steepness(rays.elbow, planeNormal(fit.plane));
  const step = STEP_UPPER_ARMS * raysPerUpperArm;
  let variance = 0;
  for (const name of ['shoulder', 'elbow', 'wrist'] as const) {
    const [across, up, away] = rays[name];
    const moves: readonly Vector[] = [
      [across + step, up, away],
      [across, up + step, away],
    ];
    for (const moved of moves) {
      const change = flexionInPlaneDeg({ ...rays, [name]: moved }, fit.plane) - atDeg;
      variance += ((change / STEP_UPPER_ARMS) * pointSd) ** 2;
    }
  }
  return variance;
}

/**
 * Elbow flexion, degrees, of one picture in the plane of its set with its 95 % interval: the fit's doubt about the
 * plane and the elbow, the landmarks' scatter carried through the plane, and what is left over. Not measured where the
 * plane is seen too obliquely, and where the arm's lengths did not keep their size: then the network has lost the arm.
 * @param jitterUpperArms - scatter of points from picture to picture, upper-arm lengths
 */
export function flexionByFit(rays: ArmRays, fit: ArmPlaneFit, jitterUpperArms: number): Measured {
  const { plane, covariance } = fit;
  if (obliquenessDeg(rays, plane) > ARM_PLANE.obliqueDeg) return notMeasured('too-oblique');
  if (fit.fittedFrames > 0 && fit.misfit > ARM_PLANE.mostMisfit) return notMeasured('too-uncertain');
  const angleDeg = flexionInPlaneDeg(rays, plane);
  const slopes = byPlane(rays, plane, angleDeg);
  const fromFit = slopes.reduce(
    (sum, a, i) => sum + slopes.reduce((row, b, j) => row + a * b * (covariance[i]?.[j] ?? 0), 0),
    0,
  );
  const pointSd = Math.hypot(ARM_PLANE.landmarkSd, jitterUpperArms);
  const leftOver = ARM_PLANE.leftOverDeg / Math.cos(toRadians(plane.yawDeg));
  const valueDeg = Math.max(0, angleDeg - ARM_PLANE.foldSideDeg);
  const sdDeg = Math.sqrt(fromFit + byScatter(rays, fit, angleDeg, pointSd) + leftOver ** 2);
  return estimate(valueDeg, Z95 * sdDeg);
}
