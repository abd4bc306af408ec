import type { KinematicFrame, PlanePoint } from '../kinematics/kinematic-frame.ts';
import { estimate, isMeasured, notMeasured, type Measured } from '../kinematics/measured.ts';
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
 * elbow / (elbow + shoulder), of the sums over the frames in which both are positive and longer together than
 * momentNearZeroUpperArms. The tilted shares are the least and the most that the force's tilt either way, or none, makes
 * of it; a moment that turns negative under tilt counts as 0 there. "not-applicable" when the two seldom pull together.
 */
export function momentShares(frames: readonly KinematicFrame[], thresholds: Thresholds): MomentShares {
  const arms = frames.flatMap((frame) => {
    const hand = frame.body.hand ?? frame.body.wrist;
    const { shoulder, elbow } = frame.body;
    return shoulder && elbow && hand && frame.pointSdUpperArms !== null
      ? [{ shoulder, elbow, hand, sd: frame.pointSdUpperArms }]
      : [];
  });
  if (arms.length === 0 || arms.length < frames.length / 2) return noShares('hand-not-seen');
  const used = arms.filter(({ shoulder, elbow, hand }) => {
    const moments = handMoments(shoulder, elbow, hand, 0);
    const sum = moments.elbow + moments.shoulder;
    return moments.elbow > 0 && moments.shoulder > 0 && sum > thresholds.momentNearZeroUpperArms;
  });
  if (used.length < BOTH_POSITIVE_SHARE * arms.length) return noShares('not-applicable');
  const sd = used.reduce((sum, arm) => sum + arm.sd, 0) / used.length;
  const shares = [-thresholds.forceTiltDeg, 0, thresholds.forceTiltDeg].map((tiltDeg) => {
    let elbowSum = 0;
    let shoulderSum = 0;
    for (const { shoulder, elbow, hand } of used) {
      const moments = handMoments(shoulder, elbow, hand, tiltDeg);
      elbowSum += Math.max(0, moments.elbow) / used.length;
      shoulderSum += Math.max(0, moments.shoulder) / used.length;
    }
    return shareWithScatter(elbowSum, shoulderSum, sd);
  });
  const byValue = [...shares].sort((a, b) => a.value - b.value);
  const [low = notMeasured('not-applicable')] = byValue;
  return {
    elbowMomentShare: shares[1] ?? notMeasured('not-applicable'),
    elbowMomentShareTiltedLow: low,
    elbowMomentShareTiltedHigh: byValue.at(-1) ?? low,
  };
}

/** e / (e + s) with the scatter of its levers carried through: each lever is the distance of two points. */
function shareWithScatter(
  elbow: number,
  shoulder: number,
  pointSd: number,
): { value: number; low: number; high: number } {
  const sum = Math.max(1e-9, elbow + shoulder);
  const leverSd = Math.SQRT2 * pointSd;
  const halfWidth = (1.96 * leverSd * Math.hypot(elbow, shoulder)) / (sum * sum);
  const share = estimate(clamp(elbow / sum, 0, 1), halfWidth);
  return { value: share.value, low: Math.max(0, share.low), high: Math.min(1, share.high) };
}

function noShares(reason: 'hand-not-seen' | 'not-applicable'): MomentShares {
  const none = notMeasured(reason);
  return { elbowMomentShare: none, elbowMomentShareTiltedLow: none, elbowMomentShareTiltedHigh: none };
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
