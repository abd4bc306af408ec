import { toDegrees, toRadians } from '../math/angle.ts';
import type { SidedPlace } from '../pose/sided-pose.ts';
import type { PlaneProjection } from './plane-projection.ts';
import type { TrackedPlaces } from './tracked-points.ts';

/** A direction or point in the camera's axes: across (the treated side's forward), up, away from the camera. */
export type Vector = readonly [number, number, number];

/** The lines of sight to the three points of an arm, each a vector whose last entry is 1. */
export interface ArmRays {
  readonly shoulder: Vector;
  readonly elbow: Vector;
  readonly wrist: Vector;
}

/** The two segments of an arm, in the unit of the plane's distance from the camera. */
export interface ArmSegments {
  readonly upperArm: Vector;
  readonly forearm: Vector;
}

/** The arm's plane through a set, and how the network sees the elbow in it. */
export interface ArmPlane {
  /** Azimuth of the plane's normal, degrees: 0 towards the camera, positive when the body's front shows. */
  readonly yawDeg: number;
  /** Elevation of the plane's normal, degrees: positive when the plane is seen from below, as of an elbow held out. */
  readonly tiltDeg: number;
  /** How far the seen elbow lies short of the joint, towards the shoulder, upper-arm lengths. */
  readonly elbowShort: number;
}

/** The line of sight to a place in the picture. */
function rayTo(place: SidedPlace, { centre, focalPx }: Pick<PlaneProjection, 'centre' | 'focalPx'>): Vector {
  return [(place.forward - centre.forward) / focalPx, (place.up - centre.up) / focalPx, 1];
}

/** The lines of sight to the treated arm, or null when one of its points is not seen. */
export function armRays(
  { shoulder, elbow, wrist }: TrackedPlaces,
  camera: Pick<PlaneProjection, 'centre' | 'focalPx'>,
): ArmRays | null {
  if (!shoulder || !elbow || !wrist) return null;
  return { shoulder: rayTo(shoulder, camera), elbow: rayTo(elbow, camera), wrist: rayTo(wrist, camera) };
}

/** Unit normal of the arm's plane, on the side of the camera. */
export function planeNormal({ yawDeg, tiltDeg }: Pick<ArmPlane, 'yawDeg' | 'tiltDeg'>): Vector {
  const [yaw, tilt] = [toRadians(yawDeg), toRadians(tiltDeg)];
  return [-Math.sin(yaw) * Math.cos(tilt), Math.sin(tilt), -Math.cos(yaw) * Math.cos(tilt)];
}

/**
 * Azimuth and elevation, degrees, of the normal of a body's plane of symmetry seen by a camera that is turned and
 * pitched against it; pitch positive looking down.
 */
export function bodyNormal(yawDeg: number, pitchDeg: number): Pick<ArmPlane, 'yawDeg' | 'tiltDeg'> {
  const [yaw, pitch] = [toRadians(yawDeg), toRadians(pitchDeg)];
  return {
    yawDeg: toDegrees(Math.atan2(Math.sin(yaw), Math.cos(yaw) * Math.cos(pitch))),
    tiltDeg: toDegrees(Math.asin(-Math.cos(yaw) * Math.sin(pitch))),
  };
}

/** Scalar product. */
export function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function subtract(a: Vector, b: Vector): Vector {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function scaled(a: Vector, factor: number): Vector {
  return [a[0] * factor, a[1] * factor, a[2] * factor];
}

/** Length of a vector, in its own unit. */
export function lengthOf(a: Vector): number {
  return Math.sqrt(dot(a, a));
}

/** A plane that is seen edge on puts points at no distance: below this the line of sight counts as so steep. */
const LEAST_STEEPNESS = 0.05;

/** How steeply a line of sight meets the plane: 1 square on, 0 along it; the inverse of the point's distance. */
export function steepness(ray: Vector, normal: Vector): number {
  return Math.max(LEAST_STEEPNESS, -dot(ray, normal));
}

/** The point in which a line of sight meets the plane that lies one unit before the camera. */
function onPlane(ray: Vector, normal: Vector): Vector {
  return scaled(ray, 1 / steepness(ray, normal));
}

/** The arm's segments in its plane, with the elbow put back to the joint. */
export function armOnPlane(rays: ArmRays, normal: Vector, elbowShort: number): ArmSegments {
  const shoulder = onPlane(rays.shoulder, normal);
  const seen = subtract(onPlane(rays.elbow, normal), shoulder);
  const upperArm = scaled(seen, 1 / (1 - elbowShort));
  const forearm = subtract(subtract(onPlane(rays.wrist, normal), shoulder), upperArm);
  return { upperArm, forearm };
}

/**
 * Elbow flexion, degrees, -180 to 180, of an arm in its plane: negative where the forearm seems to fold backwards, as
 * noise makes it of a straight arm every second time.
 */
export function flexionInPlaneDeg(rays: ArmRays, plane: ArmPlane): number {
  const normal = planeNormal(plane);
  const { upperArm: a, forearm: b } = armOnPlane(rays, normal, plane.elbowShort);
  const cross: Vector = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  return toDegrees(Math.atan2(-dot(cross, normal), dot(a, b)));
}

/** Angle, degrees, between the line of sight to the elbow and the plane's normal: 0 square on. */
export function obliquenessDeg({ elbow }: ArmRays, plane: ArmPlane): number {
  const cosine = -dot(elbow, planeNormal(plane)) / lengthOf(elbow);
  return toDegrees(Math.acos(Math.min(1, Math.max(-1, cosine))));
}
