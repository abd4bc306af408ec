import { toRadians } from '../math/angle.ts';
import type { GateReason } from '../pose/gate.ts';
import type { SidedPlace } from '../pose/sided-pose.ts';
import {
  elbowBehindTrunk,
  elbowFlexionDeg,
  forearmFromHorizontalDeg,
  hipAngleDeg,
  shoulderFlexionDeg,
  trunkInclinationDeg,
} from './geometry.ts';
import { carriedHalfWidth, pointSd, viewHalfWidthDeg, type Scatter } from './intervals.ts';
import type { KinematicFrame, PlaneBody, PlanePoint } from './kinematic-frame.ts';
import { estimate, isMeasured, notMeasured, type Measured, type NotMeasuredReason } from './measured.ts';
import type { TrackedPlaces } from './tracked-points.ts';
import type { View } from './view.ts';

/** What holds for a whole set, or live for now. */
export interface FrameContext {
  readonly view: View;
  /** The person's upper-arm length in the picture, pixels, the stretch taken in; above 0. */
  readonly upperArmPx: number;
  /** Centimetres of one upper-arm length for travel, with its relative standard deviation; null without stature. */
  readonly upperArmCm: number | null;
  readonly scaleRelativeSd: number;
  /** Scatter of a point from picture to picture after smoothing, upper-arm lengths. */
  readonly jitterUpperArms: number;
  /** Mid-shoulder's first measured place in the set; null until there is one. */
  readonly travelOrigin: PlanePoint | null;
}

/** The points of a picture in upper-arm lengths, with the turn of the camera taken out. */
interface PlanePoints extends PlaneBody {
  readonly otherShoulder: PlanePoint | null;
  readonly otherElbow: PlanePoint | null;
  readonly otherWrist: PlanePoint | null;
}

function mid(a: PlanePoint | null, b: PlanePoint | null): PlanePoint | null {
  return a && b ? { forward: (a.forward + b.forward) / 2, up: (a.up + b.up) / 2 } : null;
}

/** Takes the camera's turn out of the picture's points: the horizontal is stretched by 1 / cos(yaw). */
export function toPlane(places: TrackedPlaces, view: View, upperArmPx: number): PlanePoints {
  const stretch = 1 / Math.cos(toRadians(view.stretchYawDeg));
  const at = (place: SidedPlace | null): PlanePoint | null =>
    place && { forward: (place.forward * stretch) / upperArmPx, up: place.up / upperArmPx };
  const shoulder = at(places.shoulder);
  const hip = at(places.hip);
  const otherShoulder = at(places.otherShoulder);
  return {
    shoulder,
    elbow: at(places.elbow),
    wrist: at(places.wrist),
    hand: mid(at(places.index), at(places.pinky)),
    hip,
    knee: at(places.knee),
    ankle: at(places.ankle),
    midShoulder: mid(shoulder, otherShoulder),
    midHip: mid(hip, at(places.otherHip)),
    otherShoulder,
    otherElbow: at(places.otherElbow),
    otherWrist: at(places.otherWrist),
  };
}

/** A value of points with its carried 95 % interval, or the reason when one of the points is missing. */
function measure(
  points: readonly (PlanePoint | null)[],
  of: (points: readonly PlanePoint[]) => number,
  scatter: Scatter,
  missing: NotMeasuredReason,
  leastHalfWidth = 0,
): Measured {
  const known = points.filter((point) => point !== null);
  if (known.length < points.length) return notMeasured(missing);
  return estimate(of(known), Math.hypot(carriedHalfWidth(known, of, scatter), leastHalfWidth));
}

/** Wraps a function of exactly four points. */
function ofFour(
  of: (a: PlanePoint, b: PlanePoint, c: PlanePoint, d: PlanePoint) => number,
): (points: readonly PlanePoint[]) => number {
  return ([a, b, c, d]) => (a && b && c && d ? of(a, b, c, d) : 0);
}

/** Wraps a function of exactly three points. */
function ofThree(
  of: (a: PlanePoint, b: PlanePoint, c: PlanePoint) => number,
): (points: readonly PlanePoint[]) => number {
  return ([a, b, c]) => (a && b && c ? of(a, b, c) : 0);
}

/** Wraps a function of exactly two points. */
function ofTwo(of: (a: PlanePoint, b: PlanePoint) => number): (points: readonly PlanePoint[]) => number {
  return ([a, b]) => (a && b ? of(a, b) : 0);
}

/** A frame of which nothing was measured, for one reason. */
export function emptyFrame(timeSeconds: number, reason: NotMeasuredReason): KinematicFrame {
  const none = notMeasured(reason);
  return {
    timeSeconds,
    reason,
    elbowFlexionDeg: none,
    otherElbowFlexionDeg: none,
    shoulderFlexionDeg: none,
    trunkInclinationDeg: none,
    forearmFromHorizontalDeg: none,
    forearmRotationDeg: none,
    hipAngleDeg: none,
    torsoTravelCm: none,
    torsoTravelUpperArms: none,
    elbowBehindTrunkUpperArms: none,
    pointSdUpperArms: null,
    body: {
      shoulder: null,
      elbow: null,
      wrist: null,
      hand: null,
      hip: null,
      knee: null,
      ankle: null,
      midShoulder: null,
      midHip: null,
    },
  };
}

/** Travel from the first measured place, in upper-arm lengths and centimetres. */
function travel(
  midShoulder: PlanePoint | null,
  missing: NotMeasuredReason,
  context: FrameContext,
  scatter: Scatter,
): Pick<KinematicFrame, 'torsoTravelUpperArms' | 'torsoTravelCm'> {
  const upperArms = measure(
    [midShoulder, context.travelOrigin],
    ofTwo((here, origin) => Math.hypot(here.forward - origin.forward, here.up - origin.up)),
    // The middle of two points scatters by the root of a half; the origin was had from the same landmarks.
    { ...scatter, pointSd: scatter.pointSd * Math.SQRT1_2 },
    missing,
  );
  if (!isMeasured(upperArms)) return { torsoTravelUpperArms: upperArms, torsoTravelCm: upperArms };
  const notNegative = { ...upperArms, low: Math.max(0, upperArms.low) };
  if (context.upperArmCm === null) {
    return { torsoTravelUpperArms: notNegative, torsoTravelCm: notMeasured('no-stature') };
  }
  const cm = upperArms.value * context.upperArmCm;
  const halfWidth = Math.hypot(
    (upperArms.high - upperArms.value) * context.upperArmCm,
    1.96 * context.scaleRelativeSd * cm,
  );
  const inCm = { value: cm, low: Math.max(0, cm - halfWidth), high: cm + halfWidth };
  return { torsoTravelUpperArms: notNegative, torsoTravelCm: inCm };
}

/**
 * Everything measured in one picture, from its smoothed points and what holds for the set. The one home of the
 * geometry: live and record differ only in how points are smoothed and in what is known of the set.
 * @param reason - why the gate does not believe the picture or its arm, or null
 */
export function buildFrame(
  timeSeconds: number,
  places: TrackedPlaces,
  reason: GateReason | null,
  context: FrameContext,
): KinematicFrame {
  const { view } = context;
  if (view.tooOblique) return emptyFrame(timeSeconds, reason === 'nobody' ? reason : 'too-oblique');
  const points = toPlane(places, view, context.upperArmPx);
  const { shoulder, elbow, wrist, hip, knee, midShoulder, midHip } = points;
  const yawRad = toRadians(view.yawDeg ?? 0);
  const sd = pointSd(context.jitterUpperArms);
  const scatter: Scatter = {
    pointSd: sd,
    stretch: 1 / Math.cos(toRadians(view.stretchYawDeg)),
    stretchSd: Math.abs(Math.tan(yawRad)) * toRadians(view.yawSdDeg),
  };
  const armFloor = viewHalfWidthDeg(view.yawDeg ?? 0);
  const armMissing = reason ?? 'arm-not-seen';
  const trunkMissing = reason !== null && places.shoulder === null ? reason : 'trunk-not-seen';
  const shoulderMissing = reason ?? 'trunk-not-seen';
  const elbowFlexion = measure(
    [shoulder, elbow, wrist],
    ofThree(elbowFlexionDeg),
    scatter,
    armMissing,
    armFloor,
  );
  return {
    timeSeconds,
    reason: isMeasured(elbowFlexion) ? null : elbowFlexion.notMeasured,
    elbowFlexionDeg: elbowFlexion,
    otherElbowFlexionDeg: measure(
      [points.otherShoulder, points.otherElbow, points.otherWrist],
      ofThree(elbowFlexionDeg),
      scatter,
      reason !== null && places.shoulder === null ? reason : 'arm-not-seen',
      armFloor,
    ),
    shoulderFlexionDeg: measure(
      [midShoulder, midHip, shoulder, elbow],
      ofFour(shoulderFlexionDeg),
      scatter,
      shoulderMissing,
    ),
    trunkInclinationDeg: measure([midShoulder, midHip], ofTwo(trunkInclinationDeg), scatter, trunkMissing),
    forearmFromHorizontalDeg: measure([elbow, wrist], ofTwo(forearmFromHorizontalDeg), scatter, armMissing),
    forearmRotationDeg: notMeasured(points.hand === null ? (reason ?? 'hand-not-seen') : 'too-uncertain'),
    hipAngleDeg: measure(
      [midShoulder, midHip, hip, knee],
      ofFour(hipAngleDeg),
      scatter,
      midShoulder === null || midHip === null ? trunkMissing : 'legs-not-seen',
    ),
    ...travel(midShoulder, trunkMissing, context, scatter),
    elbowBehindTrunkUpperArms: measure(
      [midShoulder, midHip, shoulder, elbow],
      ofFour(elbowBehindTrunk),
      scatter,
      shoulderMissing,
    ),
    pointSdUpperArms: sd,
    body: {
      shoulder,
      elbow,
      wrist,
      hand: points.hand,
      hip,
      knee,
      ankle: points.ankle,
      midShoulder,
      midHip,
    },
  };
}
