import { isInside, isSeen } from '../pose/body-checks.ts';
import type { GatedPose } from '../pose/gate.ts';
import type { PoseFrame } from '../pose/pose-frame.ts';
import type { SidedPlace, SidedPoint } from '../pose/sided-pose.ts';

/** The points that are smoothed and measured, named from the treated side. */
export const TRACKED_POINTS = [
  'shoulder',
  'elbow',
  'wrist',
  'pinky',
  'index',
  'hip',
  'knee',
  'ankle',
  'otherShoulder',
  'otherElbow',
  'otherWrist',
  'otherHip',
] as const;

/** One of the points that are measured. */
export type TrackedPoint = (typeof TRACKED_POINTS)[number];

/** Places of the points in pixels, forward and up; null where a point is not believed. */
export type TrackedPlaces = Readonly<Record<TrackedPoint, SidedPlace | null>>;

/** No point seen. */
export const NO_PLACES: TrackedPlaces = {
  shoulder: null,
  elbow: null,
  wrist: null,
  pinky: null,
  index: null,
  hip: null,
  knee: null,
  ankle: null,
  otherShoulder: null,
  otherElbow: null,
  otherWrist: null,
  otherHip: null,
};

/**
 * The points of one picture that are believed. The other shoulder and hip stand for the body's middle together with
 * the treated ones and are taken whenever those are seen, even hidden: the network places them from the whole body,
 * and taking them by turns would make the middle jump.
 */
export function trackedPlaces(gated: GatedPose, frame: PoseFrame): TrackedPlaces {
  if (gated.pose === null || (gated.reason !== null && !gated.armOnly)) return NO_PLACES;
  const { treated, other } = gated.pose;
  const shown = (point: SidedPoint): SidedPoint | null =>
    isSeen(point) && isInside(point, frame) ? point : null;
  const arm = gated.reason === null;
  const shoulder = shown(treated.shoulder);
  const hip = shown(treated.hip);
  const otherArm = [other.shoulder, other.elbow, other.wrist].every((point) => shown(point) !== null);
  return {
    shoulder,
    elbow: arm ? shown(treated.elbow) : null,
    wrist: arm ? shown(treated.wrist) : null,
    pinky: arm ? shown(treated.pinky) : null,
    index: arm ? shown(treated.index) : null,
    hip,
    knee: shown(treated.knee),
    ankle: shown(treated.ankle),
    otherShoulder: shoulder && other.shoulder,
    otherElbow: otherArm ? other.elbow : null,
    otherWrist: otherArm ? other.wrist : null,
    otherHip: hip && other.hip,
  };
}
