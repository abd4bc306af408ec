import type { KinematicFrame, PlanePoint } from '../kinematics/kinematic-frame.ts';
import { estimate, isMeasured, notMeasured, type Estimate, type Measured } from '../kinematics/measured.ts';
import { toRadians } from '../math/angle.ts';
import { clamp } from '../math/statistics.ts';
import type { Thresholds } from './thresholds.ts';

/**
 * Moments that the muscles must make against a hand force of 1, in upper-arm lengths. The force is what the bar does to
 * the hand: upward, because the body hangs from it.
 */
export interface HandMoments {
  /** Positive: the elbow flexors hold it. */
  readonly elbow: number;
  /** Positive: the shoulder extensors hold it. */
  readonly shoulder: number;
}

/**
 * Signed moments at elbow and shoulder of a unit force on the hand. Flexion of either joint turns the hand from
 * hanging towards the front, which is the turn from forward to up; the force turns it by r x F = r_forward F_up -
 * r_up F_forward, and the muscles must make the opposite. With the force vertical these are the horizontal distances:
 * elbow in front of hand for the flexors, hand in front of shoulder for the extensors.
 * @param tiltDeg - the force's lean from the vertical, positive forward
 */
export function handMoments(
  shoulder: PlanePoint,
  elbow: PlanePoint,
  hand: PlanePoint,
  tiltDeg: number,
): HandMoments {
  const forceForward = Math.sin(toRadians(tiltDeg));
  const forceUp = Math.cos(toRadians(tiltDeg));
  const turn = (about: PlanePoint): number =>
    (hand.forward - about.forward) * forceUp - (hand.up - about.up) * forceForward;
  // 0 - x rather than -x, so that a lever of none gives 0 and never -0.
  return { elbow: 0 - turn(elbow), shoulder: turn(shoulder) };
}

/** The elbow's share of the moment over some frames, with what the force's tilt may make of it. */
export interface MomentShares {
  readonly elbowMomentShare: Measured;
  readonly elbowMomentShareTiltedLow: Measured;
  readonly elbowMomentShareTiltedHigh: Measured;
}

/** Fewer frames than this share with both moments positive give no share. */
const BOTH_POSITIVE_SHARE = 0.25;

/**
 * elbow / (elbow + shoulder), of the means over the frames in which both are positive and longer together than
 * momentNearZeroUpperArms; "not-applicable" when they seldom pull together, then the signs tell what they do.
 *
 * The tilted shares are the least and the most that the force's tilt either way, or none, makes of it in the same
 * frames; where the two seldom pull together in all frames, so that they are had for a row as well. A moment on the
 * other side counts as 0 there.
 */
export function momentShares(frames: readonly KinematicFrame[], thresholds: Thresholds): MomentShares {
  const arms = frames.flatMap((frame) => {
    const hand = frame.body.hand ?? frame.body.wrist;
    const { shoulder, elbow } = frame.body;
    return shoulder && elbow && hand && frame.pointSdUpperArms !== null
      ? [{ shoulder, elbow, hand, sd: frame.pointSdUpperArms }]
      : [];
  });
  if (arms.length === 0 || arms.length < frames.length / 2) {
    const none = notMeasured('hand-not-seen');
    return { elbowMomentShare: none, elbowMomentShareTiltedLow: none, elbowMomentShareTiltedHigh: none };
  }
  const { forceTiltDeg, momentNearZeroUpperArms: nearZero } = thresholds;
  const together = arms.filter(({ shoulder, elbow, hand }) => {
    const moments = handMoments(shoulder, elbow, hand, 0);
    return moments.elbow > 0 && moments.shoulder > 0 && moments.elbow + moments.shoulder > nearZero;
  });
  const isTogether = together.length >= BOTH_POSITIVE_SHARE * arms.length;
  const used = isTogether ? together : arms;
  const tilted = [-forceTiltDeg, 0, forceTiltDeg].flatMap(
    (tiltDeg) => shareOver(used, tiltDeg, nearZero) ?? [],
  );
  const [low = notMeasured('not-applicable'), ...more] = [...tilted].sort((a, b) => a.value - b.value);
  return {
    elbowMomentShare: (isTogether ? shareOver(used, 0, nearZero) : null) ?? notMeasured('not-applicable'),
    elbowMomentShareTiltedLow: low,
    elbowMomentShareTiltedHigh: more.at(-1) ?? low,
  };
}

interface Arm {
  readonly shoulder: PlanePoint;
  readonly elbow: PlanePoint;
  readonly hand: PlanePoint;
  readonly sd: number;
}

/** Share of the mean moments under a tilt, negative ones as 0; null where they are near zero together. */
function shareOver(arms: readonly Arm[], tiltDeg: number, nearZero: number): Estimate | null {
  const mean = (pick: (arm: Arm) => number): number =>
    arms.reduce((sum, arm) => sum + pick(arm), 0) / arms.length;
  const moment = (joint: keyof HandMoments) => (arm: Arm) =>
    Math.max(0, handMoments(arm.shoulder, arm.elbow, arm.hand, tiltDeg)[joint]);
  const elbow = mean(moment('elbow'));
  const shoulder = mean(moment('shoulder'));
  if (elbow + shoulder <= nearZero) return null;
  return shareWithScatter(
    elbow,
    shoulder,
    mean(({ sd }) => sd),
  );
}

/** e / (e + s) with the scatter of its levers carried through: each lever is the distance of two points. */
function shareWithScatter(elbow: number, shoulder: number, pointSd: number): Estimate {
  const sum = Math.max(1e-9, elbow + shoulder);
  const leverSd = Math.SQRT2 * pointSd;
  const halfWidth = (1.96 * leverSd * Math.hypot(elbow, shoulder)) / (sum * sum);
  const share = estimate(clamp(elbow / sum, 0, 1), halfWidth);
  return { value: share.value, low: Math.max(0, share.low), high: Math.min(1, share.high) };
}

/** The sign of a measured moment by name; near zero within the limit, null where it was not measured. */
export function momentSign<T extends string>(
  moment: Measured,
  limit: number,
  names: { readonly positive: T; readonly negative: T },
): T | 'near-zero' | null {
  if (!isMeasured(moment)) return null;
  if (Math.abs(moment.value) <= limit) return 'near-zero';
  return moment.value > 0 ? names.positive : names.negative;
}
