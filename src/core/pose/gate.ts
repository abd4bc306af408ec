import { runningShare } from '../signal/running-mean.ts';
import { stepHysteresis } from '../signal/hysteresis.ts';
import { armProblem } from './body-checks.ts';
import { stepFollowing, type Following, type Seen, type Unsure } from './follow-person.ts';
import { GATE_LIMITS as LIMITS } from './gate-limits.ts';
import type { Side } from './landmark.ts';
import type { PoseFrame } from './pose-frame.ts';
import { FRESH_LABELS, settleLabels, type LabelState } from './settle-labels.ts';
import { sidedPose, type SidedPose } from './sided-pose.ts';
import { nearSideEvidence } from './viewpoint.ts';
import { FRESH_LENGTHS, rememberLengths, watchLengths, type LengthState } from './watch-lengths.ts';

/** Why a picture's landmarks are not believed; a subset of the reasons of measured values. */
export type GateReason =
  | 'nobody'
  | 'arm-not-seen'
  | 'outside-picture'
  | 'too-small'
  | 'wrong-side'
  | 'two-people'
  | 'tracking-jump'
  | 'sides-exchanged';

/** What the gate says of one picture. */
export interface GatedPose {
  /** The landmarks with exchanged labels put right; null when nobody was found. */
  readonly pose: SidedPose | null;
  readonly reason: GateReason | null;
  /** True when the reason concerns the arm only: the trunk may still be measured. */
  readonly armOnly: boolean;
  /** True when labels were put right in this picture. */
  readonly exchanged: boolean;
  /** True when the person has to be searched afresh. */
  readonly resetTracker: boolean;
  /** True when nothing before this picture may be carried on: filters start anew. */
  readonly restart: boolean;
}

/** Which side is near the camera, as a running score and a two-level switch. */
interface NearState {
  readonly score: number | null;
  readonly isFar: boolean;
}

/** What the gate remembers from picture to picture. */
export interface GateState {
  readonly last: Seen | null;
  readonly lastBelieved: Seen | null;
  readonly unsure: Unsure | null;
  readonly labels: LabelState;
  readonly near: NearState;
  readonly lengths: LengthState;
  readonly lastResetSeconds: number;
}

/** The gate before the first picture, and after a source's start. */
export const FRESH_GATE: GateState = {
  last: null,
  lastBelieved: null,
  unsure: null,
  labels: FRESH_LABELS,
  near: { score: null, isFar: false },
  lengths: FRESH_LENGTHS,
  lastResetSeconds: -Infinity,
};

const NOBODY: GatedPose = {
  pose: null,
  reason: 'nobody',
  armOnly: false,
  exchanged: false,
  resetTracker: false,
  restart: false,
};

function stepNear(near: NearState, pose: SidedPose, stepSeconds: number): NearState {
  const own = nearSideEvidence(pose).score;
  const before = near.score ?? own;
  const score = before + runningShare(stepSeconds, LIMITS.nearMeanSeconds) * (own - before);
  return { score, isFar: stepHysteresis(near.isFar, -score, { on: LIMITS.farOn, off: LIMITS.farOff }) };
}

/** True when something has been wrong for so long that a new search is worth its cost. */
function isTroubled(
  now: number,
  following: Following,
  staleSinceSeconds: number | null,
  exchangedSinceSeconds: number | null,
): boolean {
  const lasted = (since: number | null | undefined, seconds: number): boolean =>
    typeof since === 'number' && now - since >= seconds;
  return (
    following.jumpedWhole ||
    lasted(following.unsure?.sinceSeconds, LIMITS.resetAfterSeconds) ||
    lasted(staleSinceSeconds, LIMITS.resetAfterSeconds) ||
    lasted(exchangedSinceSeconds, LIMITS.exchangedResetSeconds)
  );
}

/**
 * Says of one picture whether its landmarks are believed, puts exchanged labels right, and asks for a new search
 * where tracking went stale. Pictures come in order of time. After a pause without anybody the next person is taken as
 * they are: nothing of before counts.
 *
 * Two people: the tracker follows one and the person finder counts. A bystander does not stop measuring; once the
 * followed landmarks jump while two are about, nothing is believed until they are back where they were or have been
 * steady for a second.
 */
export function stepGate(
  remembered: GateState,
  frame: PoseFrame,
  side: Side,
): { readonly state: GateState; readonly gated: GatedPose } {
  if (frame.pose === null) return { state: remembered, gated: NOBODY };
  const now = frame.timeSeconds;
  const pause = remembered.last ? now - remembered.last.timeSeconds : 0;
  const wasAway = pause > LIMITS.awaySeconds;
  const state = wasAway ? { ...FRESH_GATE, lastResetSeconds: remembered.lastResetSeconds } : remembered;
  const { last } = state;
  const step = last ? now - last.timeSeconds : 0;
  const before = last && step <= LIMITS.continuitySeconds ? last.pose : null;

  const raw = sidedPose(frame.pose, side, frame.widthPx);
  const settled = settleLabels(state.labels, raw, before, now, step);
  const { pose } = settled;
  const seen: Seen = { pose, timeSeconds: now };
  const following = settled.turned
    ? { unsure: state.unsure, jumpedWhole: false, startsAnew: true }
    : stepFollowing(state.unsure, seen, last, state.lastBelieved, frame.people);
  const lengths = watchLengths(state.lengths, pose, frame, step);
  const near = stepNear(state.near, pose, step);

  const arm = armProblem(pose, frame);
  const reason = ((): GateReason | null => {
    if (following.unsure !== null) return following.unsure.amongPeople ? 'two-people' : 'tracking-jump';
    if (lengths.isStale) return 'tracking-jump';
    if (settled.undecided) return 'sides-exchanged';
    return near.isFar ? 'wrong-side' : arm;
  })();
  const isBelieved = reason === null || reason === arm || reason === 'wrong-side';
  const { exchangedSinceSeconds } = settled.state;
  const resetTracker =
    isTroubled(now, following, lengths.staleSinceSeconds, exchangedSinceSeconds) &&
    now - state.lastResetSeconds >= LIMITS.resetPauseSeconds;
  return {
    state: {
      last: seen,
      lastBelieved: isBelieved ? seen : state.lastBelieved,
      unsure: following.unsure,
      labels: resetTracker ? FRESH_LABELS : settled.state,
      near,
      lengths: rememberLengths(state.lengths, lengths, isBelieved, step),
      lastResetSeconds: resetTracker ? now : state.lastResetSeconds,
    },
    gated: {
      pose,
      reason,
      armOnly: reason !== null && reason === arm,
      exchanged: settled.exchanged,
      resetTracker,
      restart: wasAway || following.startsAnew || lengths.adopts,
    },
  };
}
