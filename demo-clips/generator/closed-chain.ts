import type { BodyLengths } from './body.ts';
import { UNMOVED_SHOULDER, type ShoulderShift } from './skeleton.ts';
import { toDegrees, toRadians } from './vector.ts';

/**
 * Closed chains in the side view: the hand stays on a fixed bar and the body comes to it. All as seen in the sagittal
 * plane; directions are measured from the vertical, positive forward. A grip further out than the shoulder by
 * `gripOutM` spreads the elbows: the more the elbow bends, the more the upper arm is abducted.
 */
export interface PlanePoint {
  /** Forward, metres. */
  readonly x: number;
  /** Up, metres. */
  readonly y: number;
}

/** From shoulder to grip in the trunk's own directions (x forward, y towards the head). */
export function shoulderToGrip(
  lengths: BodyLengths,
  shoulderFlexionDeg: number,
  elbowFlexionDeg: number,
  gripOutM = 0,
): PlanePoint {
  const shoulder = toRadians(shoulderFlexionDeg);
  const elbow = toRadians(elbowFlexionDeg);
  const reach = lengths.forearm + lengths.grip;
  // Along the upper arm as the side view shows it, and across it the way the forearm folds.
  const along =
    (lengths.upperArm + reach * Math.cos(elbow)) *
    Math.cos(toRadians(gripAbductionDeg(lengths, elbowFlexionDeg, gripOutM)));
  const across = reach * Math.sin(elbow);
  return {
    x: along * Math.sin(shoulder) + across * Math.cos(shoulder),
    y: -along * Math.cos(shoulder) + across * Math.sin(shoulder),
  };
}

/**
 * Abduction of the upper arm in degrees that puts the grip `gripOutM` further out than the shoulder, the humerus not
 * turned about its length.
 * @throws RangeError when the bent arm is too short for that.
 */
export function gripAbductionDeg(lengths: BodyLengths, elbowFlexionDeg: number, gripOutM: number): number {
  const armM = lengths.upperArm + (lengths.forearm + lengths.grip) * Math.cos(toRadians(elbowFlexionDeg));
  if (Math.abs(gripOutM) > armM) throw new RangeError('The grip is further out than the bent arm reaches.');
  return toDegrees(Math.asin(gripOutM / armM));
}

/** The straight link from the hip to the shoulder whose blade has moved: length and direction against the trunk. */
export function trunkLink(
  lengths: BodyLengths,
  { forwardM, upM }: ShoulderShift,
): { readonly lengthM: number; readonly aheadDeg: number } {
  const risen = lengths.trunk + upM;
  return { lengthM: Math.hypot(risen, forwardM), aheadDeg: toDegrees(Math.atan2(forwardM, risen)) };
}

/** Point at a distance from a base along a direction from the vertical. */
export function pointAlong(base: PlanePoint, directionDeg: number, lengthM: number): PlanePoint {
  const direction = toRadians(directionDeg);
  return { x: base.x + lengthM * Math.sin(direction), y: base.y + lengthM * Math.cos(direction) };
}

const directionTo = (from: PlanePoint, to: PlanePoint): number =>
  toDegrees(Math.atan2(to.x - from.x, to.y - from.y));
const lengthOf = (point: PlanePoint): number => Math.hypot(point.x, point.y);

/**
 * Direction in degrees of a link on a fixed base whose end must lie at a given distance from the target, leaning
 * away behind it (the body behind the bar).
 * @throws RangeError when link and distance cannot meet.
 */
export function linkDirectionDeg(
  base: PlanePoint,
  linkM: number,
  target: PlanePoint,
  endToTargetM: number,
): number {
  const apart = Math.hypot(target.x - base.x, target.y - base.y);
  const cosine = (linkM ** 2 + apart ** 2 - endToTargetM ** 2) / (2 * linkM * apart);
  if (Math.abs(cosine) > 1) throw new RangeError('The bar cannot be reached in this posture.');
  return directionTo(base, target) - toDegrees(Math.acos(cosine));
}

/** Shoulder flexion in degrees that brings the bent arm's grip to the target. */
export function shoulderFlexionToReach(
  lengths: BodyLengths,
  shoulder: PlanePoint,
  trunkLeanDeg: number,
  elbowFlexionDeg: number,
  target: PlanePoint,
  gripOutM = 0,
): number {
  // Straight down along the trunk is a direction of 180 deg; the bent arm's grip runs ahead of its upper arm.
  const ahead = shoulderToGrip(lengths, 0, elbowFlexionDeg, gripOutM);
  const aheadDeg = toDegrees(Math.atan2(ahead.x, -ahead.y));
  const worldDeg = directionTo(shoulder, target);
  const inTrunkDeg = 180 - (worldDeg - trunkLeanDeg);
  return wrapDeg(inTrunkDeg - aheadDeg);
}

/** Shoulder to grip as the crow flies in the side view: fixed by the elbow alone. */
export function armSpanM(lengths: BodyLengths, elbowFlexionDeg: number, gripOutM = 0): number {
  return lengthOf(shoulderToGrip(lengths, 0, elbowFlexionDeg, gripOutM));
}

/**
 * Trunk lean and hip of a body that hangs from a bar with a given shoulder and elbow angle, its feet fixed and its
 * hip at a given distance from the ankle (how far the knee is bent).
 */
export function hangFromBar(
  lengths: BodyLengths,
  ankle: PlanePoint,
  bar: PlanePoint,
  angles: { shoulderFlexionDeg: number; elbowFlexionDeg: number },
  ankleToHipM: number,
  gripOutM = 0,
  shift: ShoulderShift = UNMOVED_SHOULDER,
): { hip: PlanePoint; trunkLeanDeg: number } {
  const arm = shoulderToGrip(lengths, angles.shoulderFlexionDeg, angles.elbowFlexionDeg, gripOutM);
  const hipToGrip: PlanePoint = { x: arm.x + shift.forwardM, y: arm.y + lengths.trunk + shift.upM };
  const legDeg = linkDirectionDeg(ankle, ankleToHipM, bar, lengthOf(hipToGrip));
  const hip = pointAlong(ankle, legDeg, ankleToHipM);
  const inTrunkDeg = toDegrees(Math.atan2(hipToGrip.x, hipToGrip.y));
  return { hip, trunkLeanDeg: wrapDeg(directionTo(hip, bar) - inTrunkDeg) };
}

const wrapDeg = (angleDeg: number): number => ((((angleDeg + 180) % 360) + 360) % 360) - 180;
