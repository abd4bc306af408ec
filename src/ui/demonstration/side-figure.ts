import {
  ELBOW_TO_GRIP_OVER_STATURE,
  SEGMENT_OVER_STATURE,
  SHOULDER_HEIGHT_OVER_STATURE,
} from '../../core/kinematics/anthropometry.ts';
import { toDegrees, toRadians } from '../../core/math/angle.ts';

/*
 * A figure of sticks seen from the side of the treated arm, by kinematics alone. Lengths in statures, x forward, y up,
 * the floor at y = 0 and the ankle at x = 0.
 */

/** A place in the side view, statures. */
export interface SidePoint {
  readonly x: number;
  readonly y: number;
}

/** The joints of a figure. */
export interface SideFigure {
  readonly head: SidePoint;
  readonly shoulder: SidePoint;
  readonly elbow: SidePoint;
  readonly grip: SidePoint;
  readonly hip: SidePoint;
  readonly knee: SidePoint;
  readonly ankle: SidePoint;
  readonly toe: SidePoint;
}

const { trunk, thigh, shank, upperArm } = SEGMENT_OVER_STATURE;
const GRIP = ELBOW_TO_GRIP_OVER_STATURE;
const LEG = thigh + shank;
/** Of the ankle: what is left of the shoulder's height below trunk and leg. */
const ANKLE: SidePoint = { x: 0, y: SHOULDER_HEIGHT_OVER_STATURE - trunk - LEG };
/** For the eye only, no source. */
const FOOT = 0.11;
const HEAD_ABOVE_SHOULDER = 0.11;
/** A leg is straight for the eye with this share of its length. */
const STRAIGHT_LEG = 0.985;

/** Angles of a standing figure, degrees; signs as in docs/measuring.md, the trunk's lean positive forward. */
export interface StandingAngles {
  readonly elbowFlexionDeg: number;
  readonly shoulderFlexionDeg: number;
  readonly trunkLeanDeg: number;
}

/** A figure that stands on straight legs. */
export function standing({ elbowFlexionDeg, shoulderFlexionDeg, trunkLeanDeg }: StandingAngles): SideFigure {
  const hip = { x: 0, y: ANKLE.y + LEG };
  const shoulder = along(hip, trunkLeanDeg, trunk);
  const elbow = hanging(shoulder, shoulderFlexionDeg - trunkLeanDeg, upperArm);
  const grip = hanging(elbow, shoulderFlexionDeg - trunkLeanDeg + elbowFlexionDeg, GRIP);
  return figureOf({ shoulder, elbow, grip, hip, knee: { x: 0, y: ANKLE.y + shank } }, trunkLeanDeg);
}

/**
 * A figure that hangs from a bar on its heels, the hands on the bar: the upper arm keeps an angle to the trunk and the knees
 * give way. Throws when the bar cannot be reached so.
 * @param legShare - from the ankle to the hip, as a share of the leg
 */
export function hangingCurl(
  bar: SidePoint,
  elbowFlexionDeg: number,
  shoulderFlexionDeg: number,
  legShare: number,
): SideFigure {
  // Hip to grip with the trunk upright; turned as a whole until it meets the bar.
  const upright = armFrom({ x: 0, y: trunk }, shoulderFlexionDeg, elbowFlexionDeg);
  const hip = meet(ANKLE, LEG * legShare, bar, Math.hypot(upright.x, upright.y));
  const turnDeg = directionDeg({ x: bar.x - hip.x, y: bar.y - hip.y }) - directionDeg(upright);
  const shoulder = along(hip, turnDeg, trunk);
  const elbow = hanging(shoulder, shoulderFlexionDeg - turnDeg, upperArm);
  return figureOf({ shoulder, elbow, grip: bar, hip, knee: kneeOf(hip) }, turnDeg);
}

/** A figure that hangs from a bar as straight as a board: the shoulder gives what the elbow does not. Throws as hangingCurl. */
export function hangingRow(bar: SidePoint, elbowFlexionDeg: number): SideFigure {
  const elbowCos = Math.cos(toRadians(elbowFlexionDeg));
  const reach = Math.sqrt(upperArm ** 2 + GRIP ** 2 + 2 * upperArm * GRIP * elbowCos);
  const leg = LEG * STRAIGHT_LEG;
  const shoulder = meet(ANKLE, leg + trunk, bar, reach);
  const leanDeg = directionDeg({ x: shoulder.x - ANKLE.x, y: shoulder.y - ANKLE.y });
  const hip = along(ANKLE, leanDeg, leg);
  // The elbow lies below the line from shoulder to hand.
  const toBar = directionDeg({ x: bar.x - shoulder.x, y: bar.y - shoulder.y });
  const atShoulderDeg = toDegrees(
    Math.acos((upperArm ** 2 + reach ** 2 - GRIP ** 2) / (2 * upperArm * reach)),
  );
  const elbow = along(shoulder, toBar + atShoulderDeg, upperArm);
  return figureOf({ shoulder, elbow, grip: bar, hip, knee: kneeOf(hip) }, leanDeg);
}

function figureOf(joints: Omit<SideFigure, 'head' | 'ankle' | 'toe'>, trunkLeanDeg: number): SideFigure {
  const head = along(joints.shoulder, trunkLeanDeg, HEAD_ABOVE_SHOULDER);
  return { ...joints, head, ankle: ANKLE, toe: { x: FOOT, y: 0.012 } };
}

/** The knee of a leg that may be bent, in front of the line from ankle to hip. */
function kneeOf(hip: SidePoint): SidePoint {
  const apart = Math.hypot(hip.x - ANKLE.x, hip.y - ANKLE.y);
  const cosine = (shank ** 2 + apart ** 2 - thigh ** 2) / (2 * shank * apart);
  const atAnkleDeg = toDegrees(Math.acos(Math.min(1, cosine)));
  return along(ANKLE, directionDeg({ x: hip.x - ANKLE.x, y: hip.y - ANKLE.y }) + atAnkleDeg, shank);
}

function armFrom(shoulder: SidePoint, shoulderFlexionDeg: number, elbowFlexionDeg: number): SidePoint {
  return hanging(hanging(shoulder, shoulderFlexionDeg, upperArm), shoulderFlexionDeg + elbowFlexionDeg, GRIP);
}

/** A place at a distance in a direction from straight up, positive forward. */
function along(from: SidePoint, upDeg: number, length: number): SidePoint {
  return { x: from.x + length * Math.sin(toRadians(upDeg)), y: from.y + length * Math.cos(toRadians(upDeg)) };
}

/** A place at a distance in a direction from straight down, positive forward. */
function hanging(from: SidePoint, downDeg: number, length: number): SidePoint {
  return {
    x: from.x + length * Math.sin(toRadians(downDeg)),
    y: from.y - length * Math.cos(toRadians(downDeg)),
  };
}

/** Direction of a vector from straight up, positive forward. */
function directionDeg({ x, y }: SidePoint): number {
  return toDegrees(Math.atan2(x, y));
}

/** Where two lengths on two bases meet, on the side away from the bar. */
function meet(base: SidePoint, length: number, target: SidePoint, toTarget: number): SidePoint {
  const apart = Math.hypot(target.x - base.x, target.y - base.y);
  const cosine = (length ** 2 + apart ** 2 - toTarget ** 2) / (2 * length * apart);
  if (Math.abs(cosine) > 1) throw new RangeError('side-figure: the bar cannot be reached in this posture.');
  const direction = directionDeg({ x: target.x - base.x, y: target.y - base.y });
  return along(base, direction - toDegrees(Math.acos(cosine)), length);
}
