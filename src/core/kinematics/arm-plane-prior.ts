import { toRadians } from '../math/angle.ts';
import { ARM_PLANE } from './arm-plane-limits.ts';
import { armOnPlane, bodyNormal, planeNormal, type ArmRays } from './arm-plane.ts';

/** What the body shows of the camera: yaw and pitch, degrees; null where they could not be had. */
export interface BodyView {
  readonly yawDeg: number | null;
  readonly pitchDeg: number | null;
  /** True where something surer than the body says both, as a level on the camera would; then they scatter by a degree. */
  readonly isGiven?: boolean;
}

/** Scatter of a turn and a pitch that are given, one standard deviation, degrees. Common. */
const GIVEN_SD_DEG = 1;

/** What is expected of the plane's normal before the arm is looked at: means and covariance, degrees. */
export interface PlanePrior {
  readonly yawDeg: number;
  readonly tiltDeg: number;
  readonly yawVariance: number;
  readonly tiltVariance: number;
  readonly covariance: number;
  /** The part of the yaw's variance that is the body's own. */
  readonly bodyYawVariance: number;
  /** How far the arm's plane is expected to be turned from the body's, degrees of yaw. */
  readonly armTurnDeg: number;
}

/** Scatter of the body's yaw, one standard deviation, degrees. */
function bodyYawSdDeg({ yawDeg, isGiven }: BodyView): number {
  if (isGiven === true) return GIVEN_SD_DEG;
  const { sdDeg, growth, unknownSdDeg } = ARM_PLANE.bodyYaw;
  return yawDeg === null ? unknownSdDeg : sdDeg + growth * Math.abs(yawDeg);
}

/** Direction of the upper arm in the body's plane of symmetry, a unit vector. */
interface ArmDirection {
  readonly forward: number;
  readonly up: number;
}

const HANGING: ArmDirection = { forward: 0, up: -1 };

/** Where the upper arm points on average, if the arm lay in the body's own plane; hanging when nothing is seen. */
function meanDirection(arms: readonly ArmRays[], yawDeg: number, tiltDeg: number): ArmDirection {
  const normal = planeNormal({ yawDeg, tiltDeg });
  const yaw = toRadians(yawDeg);
  let [forward, up] = [0, 0];
  for (const rays of arms) {
    const { upperArm } = armOnPlane(rays, normal, ARM_PLANE.elbowShort.mean);
    forward += upperArm[0] * Math.cos(yaw) - upperArm[2] * Math.sin(yaw);
    up += upperArm[1];
  }
  const size = Math.hypot(forward, up);
  return size > 0 ? { forward: forward / size, up: up / size } : HANGING;
}

/**
 * The arm's plane as the body lets expect it. The plane is the body's own, turned about the arm by abduction, which
 * tips the normal towards the near end of the upper arm, and by rotation about the upper arm, which tips it the way
 * the forearm folds. With a hanging arm the first is a tilt and the second a yaw; with the arm held forward they
 * change places.
 */
export function priorOf(body: BodyView, arms: readonly ArmRays[]): PlanePrior {
  const { pitch, abduction, inwardRotation } = ARM_PLANE;
  const bodyYawDeg = body.yawDeg ?? 0;
  const centre = bodyNormal(bodyYawDeg, body.pitchDeg ?? pitch.unknownDeg);
  const arm = meanDirection(arms, centre.yawDeg, centre.tiltDeg);
  // Towards the front a normal turns to a smaller yaw.
  const abducting = { yaw: arm.forward, tilt: -arm.up };
  const rotating = { yaw: arm.up, tilt: arm.forward };
  const hanging = Math.max(0, -arm.up);
  const abductionDeg = abduction.forwardDeg + (abduction.hangingDeg - abduction.forwardDeg) * hanging;
  const armTurnDeg = abductionDeg * abducting.yaw + inwardRotation.meanDeg * rotating.yaw;
  const armTiltDeg = abductionDeg * abducting.tilt + inwardRotation.meanDeg * rotating.tilt;
  const spread = (a: 'yaw' | 'tilt', b: 'yaw' | 'tilt'): number =>
    abduction.sdDeg ** 2 * abducting[a] * abducting[b] +
    inwardRotation.sdDeg ** 2 * rotating[a] * rotating[b];
  const bodyYawVariance = bodyYawSdDeg(body) ** 2;
  const seenPitchSdDeg = body.pitchDeg === null ? pitch.unknownSdDeg : pitch.sdDeg;
  const pitchSdDeg = body.isGiven === true ? GIVEN_SD_DEG : seenPitchSdDeg;
  return {
    yawDeg: centre.yawDeg + armTurnDeg,
    tiltDeg: centre.tiltDeg + armTiltDeg,
    yawVariance: bodyYawVariance + spread('yaw', 'yaw'),
    tiltVariance: (pitchSdDeg * Math.cos(toRadians(bodyYawDeg))) ** 2 + spread('tilt', 'tilt'),
    covariance: spread('yaw', 'tilt'),
    bodyYawVariance,
    armTurnDeg,
  };
}
