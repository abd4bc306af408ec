import { toDegrees, toRadians } from '../math/angle.ts';
import { clamp, interpolateTable, weightedMean, type Weighted } from '../math/statistics.ts';
import { trunkOf, type SidedPoint, type SidedPose } from './sided-pose.ts';

/**
 * Distance between the network's shoulder and hip landmarks over its trunk length (middle of the hips to middle of the
 * shoulders). Half-widths of the joint centres of 0.112 and 0.060 of stature, which fit a rendered body, would give
 * 0.78 and 0.42; two people filmed from the front gave 0.66 to 0.68 and 0.36 to 0.40. The anatomical breadths (0.259
 * and 0.191 of stature) reach to the skin and are too wide.
 */
const SHOULDER_WIDTH_OVER_TRUNK = 0.71;
const HIP_WIDTH_OVER_TRUNK = 0.39;

/** Standard deviations, degrees, of the four sources of the yaw near a square view; they set how much each counts. */
const YAW_SOURCE_SD_DEG = { shoulderWidth: 6, hipWidth: 10, shoulderWorld: 10, hipWorld: 14 };

/** Below this the network itself does not believe in the point: it tells nothing of the view. */
const LEAST_VISIBILITY = 0.3;

/**
 * Yaw from a body line of known length that stands square to the body's plane of symmetry. Its picture is its length
 * times sin(yaw); the trunk against which it is measured is itself shortened along the picture's horizontal by
 * cos(yaw), so both are solved together: a quadratic in sin(yaw) squared.
 */
function yawFromWidth(
  lineForward: number,
  widthOverTrunk: number,
  trunk: { forward: number; up: number },
): number {
  const w2 = widthOverTrunk ** 2;
  const a2 = trunk.forward ** 2;
  const b2 = trunk.up ** 2;
  const d2 = lineForward ** 2;
  const half = w2 * (a2 + b2) + d2;
  const root = Math.sqrt(Math.max(0, half * half - 4 * w2 * b2 * d2));
  const sin2 = w2 * b2 > 1e-9 ? (half - root) / (2 * w2 * b2) : half > 0 ? d2 / half : 0;
  return -Math.sign(lineForward) * toDegrees(Math.asin(Math.sqrt(clamp(sin2, 0, 1))));
}

/**
 * The network's metric guess compresses depth, of an upright body the more the farther it is turned: yaw of its shoulder
 * and hip lines there, degrees, by the true one. Median of the standing sets and holds of the developing set of rendered
 * people; lying under a bar it turned lines by no more than 3 degrees.
 */
const UPRIGHT_WORLD_YAW_DEG = { seen: [0, 13, 36, 58, 74, 90], true: [0, 15, 30, 45, 60, 90] };

/** A trunk that is this much upright in the picture, as a share of its length, is lying, and standing. */
const UPRIGHT_SHARE = { lying: 0.6, standing: 0.9 };

/** Yaw of a body line in the network's metric guess, degrees, -180 to 180. */
function yawFromWorld(
  treated: SidedPoint,
  other: SidedPoint,
  trunk: { up: number; length: number },
): number | null {
  const forward = treated.worldForward - other.worldForward;
  const depth = treated.worldDepth - other.worldDepth;
  if (Math.hypot(forward, depth) < 0.02) return null;
  const seen = toDegrees(Math.atan2(-forward, -depth));
  const fromSide = Math.abs(seen) <= 90 ? Math.abs(seen) : 180 - Math.abs(seen);
  const { lying, standing } = UPRIGHT_SHARE;
  const upright = clamp((trunk.up / trunk.length - lying) / (standing - lying), 0, 1);
  const known = interpolateTable(UPRIGHT_WORLD_YAW_DEG.seen, UPRIGHT_WORLD_YAW_DEG.true, fromSide);
  const turned = fromSide + upright * (known - fromSide);
  return Math.sign(seen) * (Math.abs(seen) <= 90 ? turned : 180 - turned);
}

/** Weighted mean of directions, degrees, -180 to 180: 170 and -170 meet at 180, not at 0. */
function meanDirectionDeg(items: readonly Weighted[]): number | null {
  const sin = weightedMean(items.map(({ value, weight }) => ({ value: Math.sin(toRadians(value)), weight })));
  const cos = weightedMean(items.map(({ value, weight }) => ({ value: Math.cos(toRadians(value)), weight })));
  return sin === null || cos === null ? null : toDegrees(Math.atan2(sin, cos));
}

/**
 * How far the body is turned about the vertical, degrees: 0 with the treated side square to the camera, positive
 * when the front shows, negative when the back shows; beyond 90 either way the other side is nearer. Null when the
 * trunk has no length in the picture. From the width of the shoulder and hip lines over the trunk's length and from
 * the same lines in the network's metric guess.
 */
export function bodyYawDeg(pose: SidedPose): number | null {
  const trunk = trunkOf(pose);
  if (trunk.length < 1) return null;
  const { treated, other } = pose;
  const sources: Weighted[] = [];
  const add = (value: number | null, sdDeg: number): void => {
    if (value !== null) sources.push({ value, weight: 1 / sdDeg ** 2 });
  };
  add(yawFromWorld(treated.shoulder, other.shoulder, trunk), YAW_SOURCE_SD_DEG.shoulderWorld);
  add(yawFromWorld(treated.hip, other.hip, trunk), YAW_SOURCE_SD_DEG.hipWorld);
  // A width cannot tell 60 deg from 120: the metric guess says which side is nearer.
  const fartherThan90 = Math.abs(meanDirectionDeg(sources) ?? 0) > 90;
  const fold = (yaw: number): number => (fartherThan90 ? Math.sign(yaw || 1) * 180 - yaw : yaw);
  const sdOfWidth = (yaw: number, sdDeg: number): number =>
    sdDeg / Math.max(0.3, Math.cos((Math.min(90, Math.abs(yaw)) * Math.PI) / 180));
  const shoulderWidth = yawFromWidth(
    treated.shoulder.forward - other.shoulder.forward,
    SHOULDER_WIDTH_OVER_TRUNK,
    trunk,
  );
  const hipWidth = yawFromWidth(treated.hip.forward - other.hip.forward, HIP_WIDTH_OVER_TRUNK, trunk);
  add(fold(shoulderWidth), sdOfWidth(shoulderWidth, YAW_SOURCE_SD_DEG.shoulderWidth));
  add(fold(hipWidth), sdOfWidth(hipWidth, YAW_SOURCE_SD_DEG.hipWidth));
  return meanDirectionDeg(sources);
}

/**
 * A body of which less than this share is upright says nothing of the camera's pitch: its own leaning would have to be
 * taken out, and the network's depth, which is compressed, does not show how much of it points away.
 */
const LEAST_UPRIGHT_SHARE = 0.93;

/**
 * How far the camera looks down, degrees, from how the body leans in the network's metric guess: whoever stands is
 * upright, and what leans with the body's turn is the person's own leaning. Negative looking up; null for a body that
 * is not upright.
 * @param yawDeg - turn of the body, degrees, within 80 either way
 */
export function cameraPitchDeg({ treated, other }: SidedPose, yawDeg: number): number | null {
  const seen = Math.min(treated.ankle.visibility, other.ankle.visibility) > LEAST_VISIBILITY;
  const foot = seen ? 'ankle' : 'hip';
  const along = (axis: 'worldForward' | 'worldUp' | 'worldDepth'): number =>
    treated.shoulder[axis] + other.shoulder[axis] - treated[foot][axis] - other[foot][axis];
  const [forward, up, depth] = [along('worldForward'), along('worldUp'), along('worldDepth')];
  if (!(up > LEAST_UPRIGHT_SHARE * Math.hypot(forward, up, depth))) return null;
  return toDegrees(Math.atan(-(depth + forward * Math.tan(toRadians(clamp(yawDeg, -80, 80)))) / up));
}

/** How near-side evidence is weighed; head and feet do not depend on the network's left and right. */
const NEAR_WEIGHTS = { head: 0.35, feet: 0.25, depth: 0.25, visibility: 0.15 };

/** What of a picture speaks for the treated side being near the camera, each -1 to 1, null when it says nothing. */
export interface NearSideEvidence {
  /** From where head and feet point: independent of which side the network calls left. */
  readonly facing: number | null;
  /** From the depth of both sides and from which arm is seen better: turns round when the labels are exchanged. */
  readonly labels: number | null;
  /** All together, -1 (the other side is near) to 1 (the treated side is near); 0 when nothing speaks. */
  readonly score: number;
}

function mean(items: readonly (Weighted | null)[]): number | null {
  return weightedMean(items.filter((item) => item !== null));
}

/**
 * Which side is near the camera. An upright person with the left side near faces picture-left; turned in the picture,
 * as when lying, front stays square to the trunk.
 */
export function nearSideEvidence(pose: SidedPose): NearSideEvidence {
  const trunk = trunkOf(pose);
  if (trunk.length < 1) return { facing: null, labels: null, score: 0 };
  const front = { forward: trunk.up / trunk.length, up: -trunk.forward / trunk.length };
  const along = (from: SidedPoint, to: SidedPoint): number =>
    ((to.forward - from.forward) * front.forward + (to.up - from.up) * front.up) / trunk.length;
  const { treated, other, nose } = pose;
  const faceSeen = Math.min(nose.visibility, Math.max(treated.ear.visibility, other.ear.visibility));
  const earToNose = (along(treated.ear, nose) + along(other.ear, nose)) / 2;
  const head = faceSeen > LEAST_VISIBILITY ? clamp(earToNose / 0.15, -1, 1) : null;
  const feet = mean(
    [treated, other].map((side) => {
      const seen = Math.min(side.heel.visibility, side.foot_index.visibility);
      if (seen < LEAST_VISIBILITY) return null;
      return { value: clamp(along(side.heel, side.foot_index) / 0.2, -1, 1), weight: seen };
    }),
  );
  const depthOf = (landmark: 'shoulder' | 'hip'): number =>
    other[landmark].worldDepth - treated[landmark].worldDepth;
  const depth = clamp(depthOf('shoulder') / 0.25 + depthOf('hip') / 0.4, -1, 1);
  const seenBetter = clamp((treated.elbow.visibility - other.elbow.visibility) / 0.5, -1, 1);
  const facing = mean([
    head === null ? null : { value: head, weight: NEAR_WEIGHTS.head },
    feet === null ? null : { value: feet, weight: NEAR_WEIGHTS.feet },
  ]);
  const labels = mean([
    { value: depth, weight: NEAR_WEIGHTS.depth },
    { value: seenBetter, weight: NEAR_WEIGHTS.visibility },
  ]);
  const score = mean([
    facing === null ? null : { value: facing, weight: NEAR_WEIGHTS.head + NEAR_WEIGHTS.feet },
    labels === null ? null : { value: labels, weight: NEAR_WEIGHTS.depth + NEAR_WEIGHTS.visibility },
  ]);
  return { facing, labels, score: score ?? 0 };
}
