import { angleBetweenDeg, signedAngleDeg, toDegrees } from '../math/angle.ts';
import type { PlanePoint } from './kinematic-frame.ts';

/*
 * Angles and distances in the arm's plane, of points with forward and up in one unit. Definitions: docs/measuring.md.
 */

/** Elbow flexion, degrees, 0 to 180: 0 with the arm straight, growing as the elbow bends. */
export function elbowFlexionDeg(shoulder: PlanePoint, elbow: PlanePoint, wrist: PlanePoint): number {
  return angleBetweenDeg(
    elbow.forward - shoulder.forward,
    elbow.up - shoulder.up,
    wrist.forward - elbow.forward,
    wrist.up - elbow.up,
  );
}

/**
 * Shoulder flexion, degrees, -90 to 270: the upper arm against the trunk's line from trunkTop to trunkBottom, 0 along
 * it, positive in front, negative behind. An arm raised past overhead goes on beyond 180 instead of turning negative.
 */
export function shoulderFlexionDeg(
  trunkTop: PlanePoint,
  trunkBottom: PlanePoint,
  shoulder: PlanePoint,
  elbow: PlanePoint,
): number {
  const angle = signedAngleDeg(
    trunkBottom.forward - trunkTop.forward,
    trunkBottom.up - trunkTop.up,
    elbow.forward - shoulder.forward,
    elbow.up - shoulder.up,
  );
  return angle < -90 ? angle + 360 : angle;
}

/** Hip-to-shoulder line from the vertical, degrees, 0 to 180, unsigned. */
export function trunkInclinationDeg(trunkTop: PlanePoint, trunkBottom: PlanePoint): number {
  return angleBetweenDeg(trunkTop.forward - trunkBottom.forward, trunkTop.up - trunkBottom.up, 0, 1);
}

/** Forearm from the horizontal, degrees, -90 to 90, positive with the hand above the elbow. */
export function forearmFromHorizontalDeg(elbow: PlanePoint, wrist: PlanePoint): number {
  return toDegrees(Math.atan2(wrist.up - elbow.up, Math.abs(wrist.forward - elbow.forward)));
}

/** Trunk against thigh, degrees, 0 to 180: 180 in line, smaller when the hip bends. */
export function hipAngleDeg(
  trunkTop: PlanePoint,
  trunkBottom: PlanePoint,
  hip: PlanePoint,
  knee: PlanePoint,
): number {
  return angleBetweenDeg(
    trunkTop.forward - trunkBottom.forward,
    trunkTop.up - trunkBottom.up,
    knee.forward - hip.forward,
    knee.up - hip.up,
  );
}

/**
 * Distance of the elbow from a line through the shoulder along the trunk, in the points' unit: positive behind the
 * trunk, negative in front. 0 when the trunk has no length.
 */
export function elbowBehindTrunk(
  trunkTop: PlanePoint,
  trunkBottom: PlanePoint,
  shoulder: PlanePoint,
  elbow: PlanePoint,
): number {
  const forward = trunkTop.forward - trunkBottom.forward;
  const up = trunkTop.up - trunkBottom.up;
  const length = Math.hypot(forward, up);
  if (length === 0) return 0;
  const inFront = (elbow.forward - shoulder.forward) * up - (elbow.up - shoulder.up) * forward;
  return -inFront / length;
}
