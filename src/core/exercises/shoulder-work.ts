import type { KinematicFrame } from '../kinematics/kinematic-frame.ts';
import { isMeasured, notMeasured, type Measured, type NotMeasuredReason } from '../kinematics/measured.ts';
import { pullMoments } from './pull-moments.ts';

/** A frame of which everything that work needs was measured. Angles in degrees. */
interface WorkFrame {
  readonly body: KinematicFrame['body'];
  readonly elbowDeg: number;
  readonly shoulderDeg: number;
  /** Half of the 95 % interval of the shoulder's angle. */
  readonly shoulderHalfWidthDeg: number;
}

/** Less of the lift than this share measured gives no work. */
const QUORUM = 0.5;

/**
 * Half of the 95 % interval of the force's line against the arm, degrees, in any view that is measured, and at least this
 * share of that of the shoulder's angle. Chosen on the developing set, where it holds 97 % of the true shares, 93 % of those
 * that are not none. On mixed pulls with borrowed network errors it holds 87 %.
 */
const FORCE_LINE_DEG = 11;
const FORCE_LINE_SHARE = 0.5;

/** Least half-width: what the figure's own mass distribution and the ends of the lift weigh in a view without error. */
const LEAST_HALF_WIDTH = 0.02;

/**
 * The shoulder extensors' share, 0 to 1, of the work that they and the elbow flexors do while the body is lifted: moment
 * (pullMoments) times change of the angle, summed where it is these muscles that hold the joint.
 *
 * The interval is what comes out with the force's line turned either way by its own doubt. It holds the doubt of what
 * was seen, not of the assumption about the force.
 * @param frames - the shortening phase, in order
 */
export function shoulderWorkShare(frames: readonly KinematicFrame[]): Measured {
  const measured = frames.flatMap(workFrame);
  if (measured.length < 2 || measured.length < QUORUM * frames.length) return notMeasured(reasonOf(frames));
  const halfWidths = measured.reduce((sum, { shoulderHalfWidthDeg }) => sum + shoulderHalfWidthDeg, 0);
  const doubtDeg = Math.max(FORCE_LINE_DEG, (FORCE_LINE_SHARE * halfWidths) / measured.length);
  const value = shareOf(measured, 0);
  if (value === null) return notMeasured('not-applicable');
  const turned = [-doubtDeg, doubtDeg].flatMap((deg) => shareOf(measured, deg) ?? []);
  return {
    value,
    low: Math.max(0, Math.min(value - LEAST_HALF_WIDTH, ...turned)),
    high: Math.min(1, Math.max(value + LEAST_HALF_WIDTH, ...turned)),
  };
}

/** The share with the force turned so far; null when neither muscle group lifts. */
function shareOf(frames: readonly WorkFrame[], towardsUprightDeg: number): number | null {
  let [elbow, shoulder] = [0, 0];
  let before: { readonly frame: WorkFrame; readonly moments: ReturnType<typeof pullMoments> } | null = null;
  for (const frame of frames) {
    const moments = pullMoments(frame.body, towardsUprightDeg);
    if (before?.moments && moments) {
      elbow +=
        Math.max(0, (before.moments.elbow + moments.elbow) / 2) * (frame.elbowDeg - before.frame.elbowDeg);
      shoulder +=
        Math.max(0, (before.moments.shoulder + moments.shoulder) / 2) *
        (before.frame.shoulderDeg - frame.shoulderDeg);
    }
    before = { frame, moments };
  }
  // A group that gives way on the whole has done no work.
  const [bending, extending] = [Math.max(0, elbow), Math.max(0, shoulder)];
  return bending + extending > 0 ? extending / (bending + extending) : null;
}

function workFrame(frame: KinematicFrame): WorkFrame[] {
  const { body, elbowFlexionDeg: elbow, shoulderFlexionDeg: shoulder } = frame;
  if (!isMeasured(elbow) || !isMeasured(shoulder) || pullMoments(body) === null) return [];
  const shoulderHalfWidthDeg = (shoulder.high - shoulder.low) / 2;
  return [{ body, elbowDeg: elbow.value, shoulderDeg: shoulder.value, shoulderHalfWidthDeg }];
}

/** Why the first frame that lacks something does. */
function reasonOf(frames: readonly KinematicFrame[]): NotMeasuredReason {
  const lacking = frames.find((frame) => workFrame(frame).length === 0);
  if (lacking === undefined) return 'gap';
  const { reason, shoulderFlexionDeg: shoulder, body } = lacking;
  if (reason !== null) return reason;
  if (!isMeasured(shoulder)) return shoulder.notMeasured;
  if (!body.hand && !body.wrist) return 'hand-not-seen';
  return body.hip && body.knee && body.ankle ? 'trunk-not-seen' : 'legs-not-seen';
}
