import { toRadians } from '../math/angle.ts';
import { ARM_PLANE_TILT_SD_DEG } from './anthropometry.ts';
import { flexionByFit } from './arm-plane-angle.ts';
import type { ArmPlaneFit } from './arm-plane-fit.ts';
import { armRays } from './arm-plane.ts';
import {
  elbowBehindTrunk,
  elbowFlexionDeg,
  forearmFromHorizontalDeg,
  hipAngleDeg,
  shoulderFlexionDeg,
  trunkInclinationDeg,
} from './geometry.ts';
import { carriedHalfWidth, leastHalfWidthDeg, pointSd, type Scatter } from './intervals.ts';
import { LANDMARK_ERRORS, type LandmarkSource } from './landmark-errors.ts';
import type { KinematicFrame, PlaneBody, PlanePoint } from './kinematic-frame.ts';
import { estimate, isMeasured, notMeasured, type Measured, type NotMeasuredReason } from './measured.ts';
import { toPlane, type PlanePoints, type PlaneProjection } from './plane-projection.ts';
import type { TrackedPlaces } from './tracked-points.ts';
import type { View } from './view.ts';

/** What holds for a whole set, or live for now. */
export interface FrameContext {
  readonly view: View;
  /** What gave the landmarks. */
  readonly landmarks: LandmarkSource;
  /** The plane in which the treated arm bends. */
  readonly armPlane: ArmPlaneFit;
  readonly projection: PlaneProjection;
  /** Centimetres of one upper-arm length for travel, with its relative standard deviation; null without stature. */
  readonly upperArmCm: number | null;
  readonly scaleRelativeSd: number;
  /** Scatter of a point from picture to picture after smoothing, upper-arm lengths. */
  readonly jitterUpperArms: number;
  /** Mid-shoulder's first measured place in the set; null until there is one. */
  readonly travelOrigin: PlanePoint | null;
}

/** The points of a picture, as they would be with one thing of the view a little off, and how far points scatter. */
interface Sight {
  readonly points: PlanePoints;
  readonly variants: readonly PlanePoints[];
  readonly scatter: Scatter;
}

function sightOf(places: TrackedPlaces, { view, projection, jitterUpperArms }: FrameContext): Sight {
  return {
    points: toPlane(places, projection),
    variants: [
      toPlane(places, { ...projection, yawDeg: projection.yawDeg + view.yawSdDeg }),
      toPlane(places, { ...projection, armTiltDeg: projection.armTiltDeg + ARM_PLANE_TILT_SD_DEG }),
    ],
    scatter: { pointSd: pointSd(jitterUpperArms), stretch: 1 / Math.cos(toRadians(projection.yawDeg)) },
  };
}

/** What of the points is told on. */
function bodyOf(points: PlanePoints): PlaneBody {
  const { shoulder, elbow, wrist, hand, hip, knee, ankle, midShoulder, midHip } = points;
  return { shoulder, elbow, wrist, hand, hip, knee, ankle, midShoulder, midHip };
}

/** A value of named points with its carried 95 % interval, or the reason when one of the points is missing. */
function measure(
  sight: Sight,
  names: readonly (keyof PlanePoints)[],
  of: (points: readonly PlanePoint[]) => number,
  missing: NotMeasuredReason,
  leastHalfWidth = 0,
): Measured {
  const pick = (from: PlanePoints): PlanePoint[] => names.flatMap((name) => from[name] ?? []);
  const points = pick(sight.points);
  if (points.length < names.length) return notMeasured(missing);
  const halfWidth = carriedHalfWidth(points, sight.variants.map(pick), of, sight.scatter);
  return estimate(of(points), Math.max(halfWidth, leastHalfWidth));
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
function emptyFrame(timeSeconds: number, reason: NotMeasuredReason): KinematicFrame {
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

/**
 * Relative scatter of a distance that the middle of the shoulders goes, one standard deviation: the hidden shoulder is
 * guessed from posture, and its guess moves as the posture does. Measured on rendered figures.
 */
const TRAVEL_RELATIVE_SD = 0.05;

/** Travel from the first measured place, in upper-arm lengths and centimetres. */
function travel(
  sight: Sight,
  missing: NotMeasuredReason,
  { view, travelOrigin, upperArmCm, scaleRelativeSd }: FrameContext,
): Pick<KinematicFrame, 'torsoTravelUpperArms' | 'torsoTravelCm'> {
  const { midShoulder } = sight.points;
  if (midShoulder === null || travelOrigin === null) {
    return { torsoTravelUpperArms: notMeasured(missing), torsoTravelCm: notMeasured(missing) };
  }
  const value = Math.hypot(midShoulder.forward - travelOrigin.forward, midShoulder.up - travelOrigin.up);
  // The difference of two middles of two points each scatters as one point does; what stays within the set cancels.
  const scatter = 1.96 * sight.scatter.pointSd * sight.scatter.stretch;
  // A turn that is thought larger than it is stretches every distance: the doubt grows with the distance itself.
  const overstretch = 1 / Math.cos(toRadians(view.usedYawDeg)) - 1;
  const halfWidth = Math.hypot(scatter, 1.96 * (TRAVEL_RELATIVE_SD + overstretch) * value);
  const withFloor = (at: number, half: number): Measured => ({
    value: at,
    low: Math.max(0, at - half),
    high: at + half,
  });
  return {
    torsoTravelUpperArms: withFloor(value, halfWidth),
    torsoTravelCm:
      upperArmCm === null
        ? notMeasured('no-stature')
        : withFloor(value * upperArmCm, upperArmCm * Math.hypot(halfWidth, 1.96 * scaleRelativeSd * value)),
  };
}

/**
 * Forearm rotation is never measured: a fist is less than ten of the network's 256 pixels wide, and it puts the hand's points
 * where hands usually have them. On rendered people they followed the hand's turn by a tenth, and the category that could
 * be learned from them was right no more often than the most common one (docs/measuring.md).
 */
function forearmRotation({ hand }: PlanePoints, reason: NotMeasuredReason | null): Measured {
  return notMeasured(hand === null ? (reason ?? 'hand-not-seen') : 'hand-too-small');
}

/**
 * Everything measured in one picture, from its smoothed points and what holds for the set. The one home of the
 * geometry: live and record differ only in how points are smoothed and in what is known of the set.
 * @param reason - why the picture, or its arm, is not believed or is seen too obliquely, or null
 */
export function buildFrame(
  timeSeconds: number,
  places: TrackedPlaces,
  reason: NotMeasuredReason | null,
  context: FrameContext,
): KinematicFrame {
  const { view } = context;
  const errors = LANDMARK_ERRORS[context.landmarks];
  if (reason !== null && places.shoulder === null) return emptyFrame(timeSeconds, reason);
  const sight = sightOf(places, context);
  const { points } = sight;
  const leastHalfWidths = leastHalfWidthDeg(view.yawDeg ?? 0);
  const armMissing = reason ?? 'arm-not-seen';
  const trunkSeen = points.midShoulder !== null && points.midHip !== null;
  const rays = armRays(places, context.projection);
  const elbowFlexion =
    rays === null
      ? notMeasured(armMissing)
      : flexionByFit(rays, context.armPlane, context.jitterUpperArms, errors);
  const upperArmAndTrunk = ['midShoulder', 'midHip', 'shoulder', 'elbow'] as const;
  const upperArmMissing = trunkSeen ? armMissing : 'trunk-not-seen';
  // An elbow whose arm was not followed tells of the shoulder as little as of itself.
  const isArmLost = !isMeasured(elbowFlexion) && elbowFlexion.notMeasured === 'too-uncertain';
  return {
    timeSeconds,
    reason: isMeasured(elbowFlexion) ? null : elbowFlexion.notMeasured,
    elbowFlexionDeg: elbowFlexion,
    otherElbowFlexionDeg: measure(
      sight,
      ['otherShoulder', 'otherElbow', 'otherWrist'],
      ofThree((shoulder, elbow, wrist) =>
        Math.max(0, elbowFlexionDeg(shoulder, elbow, wrist) - errors.foldSideDeg),
      ),
      'arm-not-seen',
      leastHalfWidths.otherElbow,
    ),
    shoulderFlexionDeg: isArmLost
      ? notMeasured('too-uncertain')
      : measure(
          sight,
          upperArmAndTrunk,
          ofFour(shoulderFlexionDeg),
          upperArmMissing,
          leastHalfWidths.shoulder,
        ),
    trunkInclinationDeg: measure(
      sight,
      ['midShoulder', 'midHip'],
      ofTwo(trunkInclinationDeg),
      'trunk-not-seen',
      leastHalfWidths.trunk,
    ),
    forearmFromHorizontalDeg: measure(sight, ['elbow', 'wrist'], ofTwo(forearmFromHorizontalDeg), armMissing),
    forearmRotationDeg: forearmRotation(points, reason),
    hipAngleDeg: measure(
      sight,
      ['midShoulder', 'midHip', 'hip', 'knee'],
      ofFour(hipAngleDeg),
      trunkSeen ? 'legs-not-seen' : 'trunk-not-seen',
    ),
    ...travel(sight, 'trunk-not-seen', context),
    elbowBehindTrunkUpperArms: isArmLost
      ? notMeasured('too-uncertain')
      : measure(sight, upperArmAndTrunk, ofFour(elbowBehindTrunk), upperArmMissing),
    pointSdUpperArms: sight.scatter.pointSd,
    body: bodyOf(points),
  };
}
