import type { KinematicFrame, PlanePoint } from '../kinematics/kinematic-frame.ts';
import { isMeasured, valueOf, type Measured } from '../kinematics/measured.ts';
import { clamp } from '../math/statistics.ts';
import { handMoments, momentShares, momentSign } from './hand-moments.ts';
import type { RowIndicators, Span } from './judgement.ts';
import type { PhaseMarks } from './phase-fit.ts';
import { shoulderWorkShare } from './shoulder-work.ts';
import {
  difference,
  distanceFrom,
  framesWithin,
  largestOver,
  lengthOf,
  mapMeasured,
  meanOver,
  placeOver,
  smallestOver,
  type Pick,
} from './span-statistics.ts';
import type { Thresholds } from './thresholds.ts';

/** Indicators of one repetition and the moment at which the elbow was furthest back. */
export interface RowEvidence {
  readonly indicators: RowIndicators;
  readonly elbowFurthestBackSeconds: number | null;
}

/** Values at the ends of a phase are means over this share of it, and of the rest beside it up to REST_SECONDS. */
const EDGE_SHARE = 0.1;
const REST_SECONDS = 0.2;
/** Signs of the moments are read in this time about the middle of bending. */
const MIDDLE_SECONDS = 0.3;

/** The frames at both ends of the shortening phase. */
function shorteningEdges(
  frames: readonly KinematicFrame[],
  marks: PhaseMarks,
): { readonly first: readonly KinematicFrame[]; readonly last: readonly KinematicFrame[] } {
  const { bendingStartSeconds: from, topStartSeconds: to, loweringStartSeconds } = marks;
  const inside = EDGE_SHARE * (to - from);
  return {
    first: framesWithin(frames, { startSeconds: from - REST_SECONDS, endSeconds: from + inside }),
    last: framesWithin(frames, {
      startSeconds: to - inside,
      endSeconds: Math.min(loweringStartSeconds, to + REST_SECONDS) + 0.05,
    }),
  };
}

/** All indicators of curl or row of one repetition; each not measured, with its reason, where points are missing. */
export function rowIndicators(
  frames: readonly KinematicFrame[],
  marks: PhaseMarks,
  thresholds: Thresholds,
): RowEvidence {
  const whole: Span = { startSeconds: marks.bendingStartSeconds, endSeconds: marks.loweringEndSeconds };
  const shortening = framesWithin(frames, { ...whole, endSeconds: marks.topStartSeconds });
  const all = framesWithin(frames, whole);
  const { first, last } = shorteningEdges(frames, marks);
  const startShoulder = meanOver(first, shoulderFlexion);
  const extension = difference(startShoulder, meanOver(last, shoulderFlexion));
  const bending = difference(meanOver(last, elbowFlexion), meanOver(first, elbowFlexion));
  const behind = largestOver(
    framesWithin(frames, { ...whole, endSeconds: marks.loweringStartSeconds }),
    (frame) => frame.elbowBehindTrunkUpperArms,
  );
  const middleSeconds = (marks.bendingStartSeconds + marks.topStartSeconds) / 2;
  const middle = framesWithin(frames, {
    startSeconds: middleSeconds - MIDDLE_SECONDS / 2,
    endSeconds: middleSeconds + MIDDLE_SECONDS / 2,
  });
  const limit = thresholds.momentNearZeroUpperArms;
  return {
    elbowFurthestBackSeconds: behind.atSeconds,
    indicators: {
      shoulderWorkShare: shoulderWorkShare(shortening),
      shoulderShare: shareOfMotion(extension, bending),
      elbowBehindTrunkUpperArms: behind.measured,
      upperArmForwardDeg: mapMeasured(
        difference(largestOver(shortening, shoulderFlexion).measured, startShoulder),
        atLeast0,
      ),
      ...momentShares(shortening, thresholds),
      elbowMomentSign: momentSign(meanOver(middle, momentAt('elbow')), limit, {
        positive: 'flexor',
        negative: 'extensor',
      }),
      shoulderMomentSign: momentSign(meanOver(middle, momentAt('shoulder')), limit, {
        positive: 'extensor',
        negative: 'flexor',
      }),
      handToTrunkStartUpperArms: meanOver(first, handToTrunk),
      handToTrunkLeastUpperArms: smallestOver(shortening, handToTrunk),
      hipSagDeg: difference(
        meanOver(first, (frame) => frame.hipAngleDeg),
        smallestOver(all, (frame) => frame.hipAngleDeg),
      ),
      handSlipUpperArms: largestOver(all, distanceFrom(placeOver(first, handOf), handOf, 'hand-not-seen'))
        .measured,
    },
  };
}

const shoulderFlexion: Pick = (frame) => frame.shoulderFlexionDeg;
const elbowFlexion: Pick = (frame) => frame.elbowFlexionDeg;

function handOf({ body }: KinematicFrame): PlanePoint | null {
  return body.hand ?? body.wrist;
}

function atLeast0(value: number): number {
  return Math.max(0, value);
}

/**
 * Shoulder extension / (shoulder extension + elbow flexion), extension only: an upper arm that goes forward gives 0.
 * The interval carries both angles' intervals through the quotient (first order).
 */
function shareOfMotion(extension: Measured, bending: Measured): Measured {
  if (!isMeasured(extension)) return extension;
  if (!isMeasured(bending)) return bending;
  const back = atLeast0(extension.value);
  const bent = Math.max(1, bending.value);
  const sum = back + bent;
  const halfWidth =
    Math.hypot((bent * (extension.high - extension.low)) / 2, (back * (bending.high - bending.low)) / 2) /
    (sum * sum);
  // Where the arm went forward, the interval still starts from what the extension was, so that it is not too high.
  const centre = clamp(extension.value / Math.max(1, extension.value + bent), -1, 1);
  return {
    value: back / sum,
    low: clamp(centre - halfWidth, 0, 1),
    high: clamp(Math.max(back / sum, centre + halfWidth), 0, 1),
  };
}

function momentAt(joint: 'elbow' | 'shoulder'): Pick {
  return (frame) => {
    const { shoulder, elbow } = frame.body;
    const hand = handOf(frame);
    const value = shoulder && elbow && hand ? handMoments(shoulder, elbow, hand, 0)[joint] : null;
    return lengthOf(frame, 'hand-not-seen', 2, value);
  };
}

/** Perpendicular distance of the hand from the line through shoulder and hip. */
const handToTrunk: Pick = (frame) => {
  const { shoulder, hip } = frame.body;
  const hand = handOf(frame);
  if (!shoulder || !hip || !hand) return lengthOf(frame, hand ? 'trunk-not-seen' : 'hand-not-seen', 2, null);
  const along = { forward: hip.forward - shoulder.forward, up: hip.up - shoulder.up };
  const length = Math.hypot(along.forward, along.up);
  if (length === 0) return lengthOf(frame, 'trunk-not-seen', 2, null);
  const cross = (hand.forward - shoulder.forward) * along.up - (hand.up - shoulder.up) * along.forward;
  return lengthOf(frame, 'hand-not-seen', 2, Math.abs(cross) / length);
};

/** How much nearer the hand came to the trunk line, or null. */
export function handClosing(indicators: RowIndicators): number | null {
  const start = valueOf(indicators.handToTrunkStartUpperArms);
  const least = valueOf(indicators.handToTrunkLeastUpperArms);
  return start === null || least === null ? null : start - least;
}
