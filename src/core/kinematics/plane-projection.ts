import { toRadians } from '../math/angle.ts';
import type { SidedPlace } from '../pose/sided-pose.ts';
import { ASSUMED_LONG_FIELD_DEG, HALF_WIDTH_OVER_STATURE, SEGMENT_OVER_STATURE } from './anthropometry.ts';
import type { PlaneBody, PlanePoint } from './kinematic-frame.ts';
import type { TrackedPlaces } from './tracked-points.ts';

/** Joint centres' distances from the body's middle plane, upper-arm lengths. */
const SHOULDER_LATERAL = HALF_WIDTH_OVER_STATURE.shoulder / SEGMENT_OVER_STATURE.upperArm;
const HIP_LATERAL = HALF_WIDTH_OVER_STATURE.hip / SEGMENT_OVER_STATURE.upperArm;

/** How the picture shows the body's plane of symmetry: all that is needed to undo it. */
export interface PlaneProjection {
  /** Turn of the body from a square side view that is taken out, degrees, positive when the front shows. */
  readonly yawDeg: number;
  /** Tilt of the arm's plane about the front axis: how much what hangs down also goes outwards, degrees. */
  readonly armTiltDeg: number;
  /** How far a seen elbow lies short of the joint, towards the shoulder, upper-arm lengths. */
  readonly elbowShort: number;
  /** Pixels of one upper-arm length at the distance of the body's middle plane. */
  readonly upperArmPx: number;
  /** Focal length, pixels. */
  readonly focalPx: number;
  /** Middle of the picture in the treated side's axes, pixels. */
  readonly centre: SidedPlace;
}

/** Focal length, pixels, of a picture of unknown camera. */
export function assumedFocalPx(widthPx: number, heightPx: number): number {
  return Math.max(widthPx, heightPx) / 2 / Math.tan(toRadians(ASSUMED_LONG_FIELD_DEG / 2));
}

/** What a projection needs of a camera of which only the picture's size is known. */
export function cameraOfPicture(
  widthPx: number,
  heightPx: number,
): Pick<PlaneProjection, 'centre' | 'focalPx'> {
  return {
    centre: { forward: widthPx / 2, up: -heightPx / 2 },
    focalPx: assumedFocalPx(widthPx, heightPx),
  };
}

/** The points of a picture in upper-arm lengths, with the camera's turn and perspective taken out. */
export interface PlanePoints extends PlaneBody {
  readonly otherShoulder: PlanePoint | null;
  readonly otherElbow: PlanePoint | null;
  readonly otherWrist: PlanePoint | null;
}

/**
 * Undoes the projection of one point that lies `lateral` upper-arm lengths from the body's middle plane, towards the
 * treated side. A pinhole at distance D sees a point (f, u, l) at x = s (f cos - l sin) / (1 - (f sin + l cos) / D);
 * solved for f, then u follows.
 */
class Unprojection {
  readonly #sin: number;
  readonly #cos: number;
  readonly #distance: number;
  readonly #projection: PlaneProjection;

  constructor(projection: PlaneProjection) {
    this.#projection = projection;
    this.#sin = Math.sin(toRadians(projection.yawDeg));
    this.#cos = Math.cos(toRadians(projection.yawDeg));
    this.#distance = projection.focalPx / projection.upperArmPx;
  }

  at(place: SidedPlace, lateral: number): PlanePoint {
    const { centre, upperArmPx } = this.#projection;
    const x = (place.forward - centre.forward) / upperArmPx;
    const y = (place.up - centre.up) / upperArmPx;
    const [sin, cos, distance] = [this.#sin, this.#cos, this.#distance];
    const forward = (x * (1 - (lateral * cos) / distance) + lateral * sin) / (cos + (x * sin) / distance);
    return { forward, up: y * (1 - (forward * sin + lateral * cos) / distance) };
  }

  /** A point of an arm whose plane is tilted outwards: how far outwards depends on how far down the trunk it lies. */
  onArm(
    place: SidedPlace | null,
    shoulder: PlanePoint,
    trunk: PlanePoint,
    sideSign: 1 | -1,
  ): PlanePoint | null {
    if (place === null) return null;
    const outwards = Math.tan(toRadians(this.#projection.armTiltDeg));
    let point = this.at(place, sideSign * SHOULDER_LATERAL);
    // Two rounds settle to well under a hundredth of an upper arm: the tilt is small.
    for (let round = 0; round < 2; round++) {
      const down = (shoulder.forward - point.forward) * trunk.forward + (shoulder.up - point.up) * trunk.up;
      point = this.at(place, sideSign * (SHOULDER_LATERAL + outwards * down));
    }
    return point;
  }
}

/** The middle of the body from the same joint of both sides, each of which gives it once the turn is undone. */
function middleOf(treated: PlanePoint | null, other: PlanePoint | null): PlanePoint | null {
  return treated && other
    ? { forward: (treated.forward + other.forward) / 2, up: (treated.up + other.up) / 2 }
    : null;
}

/** The elbow's joint, which lies further from the shoulder than the network puts it. */
function elbowJoint(shoulder: PlanePoint, seen: PlanePoint, elbowShort: number): PlanePoint {
  const factor = 1 / (1 - elbowShort);
  return {
    forward: shoulder.forward + (seen.forward - shoulder.forward) * factor,
    up: shoulder.up + (seen.up - shoulder.up) * factor,
  };
}

/** Unit vector from hip to shoulder; upright when either is not seen. */
function trunkDirection(top: PlanePoint | null, bottom: PlanePoint | null): PlanePoint {
  const forward = top && bottom ? top.forward - bottom.forward : 0;
  const up = top && bottom ? top.up - bottom.up : 1;
  const length = Math.hypot(forward, up);
  return length > 0 ? { forward: forward / length, up: up / length } : { forward: 0, up: 1 };
}

/** Turns a picture's points into the body's plane of symmetry, upper-arm lengths. */
export function toPlane(places: TrackedPlaces, projection: PlaneProjection): PlanePoints {
  const undo = new Unprojection(projection);
  const at = (place: SidedPlace | null, lateral: number): PlanePoint | null =>
    place && undo.at(place, lateral);
  const shoulder = at(places.shoulder, SHOULDER_LATERAL);
  const otherShoulder = at(places.otherShoulder, -SHOULDER_LATERAL);
  const hip = at(places.hip, HIP_LATERAL);
  const midShoulder = middleOf(shoulder, otherShoulder);
  const midHip = middleOf(hip, at(places.otherHip, -HIP_LATERAL));
  const trunk = trunkDirection(midShoulder, midHip);
  const onArm = (place: SidedPlace | null): PlanePoint | null =>
    shoulder && undo.onArm(place, shoulder, trunk, 1);
  const onOtherArm = (place: SidedPlace | null): PlanePoint | null =>
    otherShoulder && undo.onArm(place, otherShoulder, trunk, -1);
  const joint = (near: PlanePoint | null, seen: PlanePoint | null): PlanePoint | null =>
    near && seen && elbowJoint(near, seen, projection.elbowShort);
  return {
    shoulder,
    elbow: joint(shoulder, onArm(places.elbow)),
    wrist: onArm(places.wrist),
    hand: middleOf(onArm(places.index), onArm(places.pinky)),
    hip,
    knee: at(places.knee, HIP_LATERAL),
    ankle: at(places.ankle, HIP_LATERAL),
    midShoulder,
    midHip,
    otherShoulder,
    otherElbow: joint(otherShoulder, onOtherArm(places.otherElbow)),
    otherWrist: onOtherArm(places.otherWrist),
  };
}
