import { toRadians } from '../math/angle.ts';
import { stepHysteresis } from '../signal/hysteresis.ts';
import {
  armProblem,
  hasImpossibleLengths,
  isTrunkShown,
  jumpBetween,
  stretchedTrunk,
} from './body-checks.ts';
import { GATE_LIMITS as LIMITS } from './gate-limits.ts';
import type { Side } from './landmark.ts';
import type { PoseFrame } from './pose-frame.ts';
import { NO_EXCHANGE, settleSides, type Exchange } from './side-exchange.ts';
import { exchangeSides, SIDED_LANDMARKS, sidedPose, type SidedPose } from './sided-pose.ts';
import { bodyYawDeg, nearSideEvidence } from './viewpoint.ts';

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

interface Seen {
  readonly pose: SidedPose;
  readonly timeSeconds: number;
}

interface Unsure {
  readonly sinceSeconds: number;
  readonly steadySinceSeconds: number;
  readonly amongPeople: boolean;
}

/** What the gate remembers from picture to picture. */
export interface GateState {
  readonly last: Seen | null;
  readonly lastBelieved: Seen | null;
  readonly unsure: Unsure | null;
  readonly exchange: Exchange;
  readonly exchangedSinceSeconds: number | null;
  /** Share of late in which head and feet contradicted depth and visibility, 0 to 1. */
  readonly labelDoubt: number;
  readonly nearScore: number | null;
  readonly isFar: boolean;
  readonly yawDeg: number;
  readonly trunkPx: number | null;
  readonly staleSinceSeconds: number | null;
  readonly lastResetSeconds: number;
}

/** The gate before the first picture, and after a source's start. */
export const FRESH_GATE: GateState = {
  last: null,
  lastBelieved: null,
  unsure: null,
  exchange: NO_EXCHANGE,
  exchangedSinceSeconds: null,
  labelDoubt: 0,
  nearScore: null,
  isFar: false,
  yawDeg: 0,
  trunkPx: null,
  staleSinceSeconds: null,
  lastResetSeconds: -Infinity,
};

/** Share of a new value in an exponential mean with this time constant, after a step of so many seconds. */
function share(stepSeconds: number, meanSeconds: number): number {
  return 1 - Math.exp(-Math.max(0, stepSeconds) / meanSeconds);
}

/** Labels put right, first by continuity, then by where head and feet point. */
function settle(
  state: GateState,
  frame: PoseFrame,
  raw: SidedPose,
): { pose: SidedPose; exchange: Exchange; doubt: number; undecided: boolean; turned: boolean } {
  const step = state.last ? frame.timeSeconds - state.last.timeSeconds : Infinity;
  const before = state.last && step <= LIMITS.continuitySeconds ? state.last.pose : null;
  const settled = settleSides(raw, before, state.exchange, step);
  const { facing, labels } = nearSideEvidence(settled.pose);
  const contradicts = facing !== null && labels !== null && Math.abs(facing) > 0.5 && Math.abs(labels) > 0.5;
  const against = contradicts && facing * labels < 0 ? 1 : 0;
  const doubtBefore = before === null ? 0 : state.labelDoubt;
  const doubt =
    doubtBefore + share(before === null ? 1 / 30 : step, LIMITS.labelMeanSeconds) * (against - doubtBefore);
  if (doubt < LIMITS.labelTurnedShare) return { ...settled, doubt, turned: false };
  return {
    pose: exchangeSides(settled.pose, SIDED_LANDMARKS),
    exchange: { ...settled.exchange, body: !settled.exchange.body },
    doubt: 0,
    undecided: settled.undecided,
    turned: true,
  };
}

/** Follows whether the same person is followed: after a jump nothing is believed until following is steady. */
function stepUnsure(
  state: GateState,
  frame: PoseFrame,
  pose: SidedPose,
): { unsure: Unsure | null; whole: boolean } {
  const now = frame.timeSeconds;
  const manyPeople = (frame.people ?? 1) >= 2;
  const { last, lastBelieved, unsure } = state;
  if (last === null || lastBelieved === null) return { unsure: null, whole: false };
  const sinceBelieved = now - lastBelieved.timeSeconds;
  const step = Math.min(now - last.timeSeconds, LIMITS.continuitySeconds);
  const jump = jumpBetween(last.pose, pose, step);
  if (unsure === null) {
    if (!jump.jumped) return { unsure: null, whole: false };
    return {
      unsure: { sinceSeconds: now, steadySinceSeconds: now, amongPeople: manyPeople },
      whole: jump.whole,
    };
  }
  const backStep = Math.min(sinceBelieved, LIMITS.resetAfterSeconds);
  const isBack =
    sinceBelieved <= LIMITS.slipSeconds && !jumpBetween(lastBelieved.pose, pose, backStep).jumped;
  if (isBack) return { unsure: null, whole: false };
  const steadySinceSeconds = jump.jumped ? now : unsure.steadySinceSeconds;
  const amongPeople = unsure.amongPeople || manyPeople;
  const needed = amongPeople ? LIMITS.steadySecondsAmongPeople : LIMITS.steadySeconds;
  if (now - steadySinceSeconds >= needed) return { unsure: null, whole: false };
  return { unsure: { ...unsure, steadySinceSeconds, amongPeople }, whole: jump.whole };
}

/** True when the segments cannot be a body's, or the trunk changed more than moving to and fro explains. */
function isStale(state: GateState, pose: SidedPose, cosYaw: number): boolean {
  if (hasImpossibleLengths(pose, cosYaw)) return true;
  if (state.trunkPx === null) return false;
  return Math.abs(Math.log(stretchedTrunk(pose, cosYaw) / state.trunkPx)) > Math.log(LIMITS.trunkChange);
}

function nobody(state: GateState): { state: GateState; gated: GatedPose } {
  const gated: GatedPose = {
    pose: null,
    reason: 'nobody',
    armOnly: false,
    exchanged: false,
    resetTracker: false,
    restart: false,
  };
  return { state, gated };
}

/**
 * Says of one picture whether its landmarks are believed, puts exchanged labels right, and asks for a new search
 * where tracking went stale. Pictures come in order of time.
 *
 * Two people: the tracker follows one and the person finder counts. A bystander does not stop measuring; once the
 * followed landmarks jump while two are about, nothing is believed until they are back where they were or have been
 * steady for a second.
 */
export function stepGate(
  state: GateState,
  frame: PoseFrame,
  side: Side,
): { readonly state: GateState; readonly gated: GatedPose } {
  if (frame.pose === null) return nobody(state);
  const now = frame.timeSeconds;
  const step = state.last ? now - state.last.timeSeconds : Infinity;
  const carriesOn = step <= LIMITS.continuitySeconds;
  const { pose, exchange, doubt, undecided, turned } = settle(
    state,
    frame,
    sidedPose(frame.pose, side, frame.widthPx),
  );
  const { unsure, whole } = turned ? { unsure: state.unsure, whole: false } : stepUnsure(state, frame, pose);

  const frameYaw = Math.abs(bodyYawDeg(pose) ?? state.yawDeg);
  const yawDeg = state.last
    ? state.yawDeg + share(step, LIMITS.yawMeanSeconds) * (frameYaw - state.yawDeg)
    : frameYaw;
  const cosYaw = Math.cos(toRadians(Math.min(yawDeg, LIMITS.lengthsYawDeg)));
  // From the front a trunk that leans looks short, and lengths tell nothing.
  const stale = yawDeg < LIMITS.lengthsYawDeg && isTrunkShown(pose, frame) && isStale(state, pose, cosYaw);
  const staleSinceSeconds = stale ? (state.staleSinceSeconds ?? now) : null;
  const adopts = staleSinceSeconds !== null && now - staleSinceSeconds >= LIMITS.adoptSeconds;

  const score = nearSideEvidence(pose).score;
  const nearScore =
    state.nearScore === null || !carriesOn
      ? score
      : state.nearScore + share(step, LIMITS.nearMeanSeconds) * (score - state.nearScore);
  const isFar = stepHysteresis(state.isFar, -nearScore, { on: LIMITS.farOn, off: LIMITS.farOff });

  const exchanged = exchange.body || exchange.arm || exchange.hand;
  const exchangedSinceSeconds = exchanged ? (state.exchangedSinceSeconds ?? now) : null;
  const arm = armProblem(pose, frame);
  const reason = reasonOf();
  const believed = reason === null || reason === arm || reason === 'wrong-side';
  const restart = (state.unsure !== null && unsure === null && !isSlip()) || turned || (stale && adopts);

  const troubled =
    (unsure !== null && (whole || now - unsure.sinceSeconds >= LIMITS.resetAfterSeconds)) ||
    (staleSinceSeconds !== null && now - staleSinceSeconds >= LIMITS.resetAfterSeconds) ||
    (exchangedSinceSeconds !== null && now - exchangedSinceSeconds >= LIMITS.exchangedResetSeconds);
  const resetTracker = troubled && now - state.lastResetSeconds >= LIMITS.resetPauseSeconds;

  const trunkNow = stretchedTrunk(pose, cosYaw);
  const trunkPx = (): number | null => {
    if (adopts || state.trunkPx === null) return reason === null || adopts ? trunkNow : state.trunkPx;
    if (!believed) return state.trunkPx;
    return state.trunkPx + share(carriesOn ? step : 0, LIMITS.trunkMeanSeconds) * (trunkNow - state.trunkPx);
  };
  const seen: Seen = { pose, timeSeconds: now };
  return {
    state: {
      last: seen,
      lastBelieved: believed ? seen : state.lastBelieved,
      unsure,
      exchange: resetTracker ? NO_EXCHANGE : exchange,
      exchangedSinceSeconds: resetTracker ? null : exchangedSinceSeconds,
      labelDoubt: doubt,
      nearScore,
      isFar,
      yawDeg,
      trunkPx: trunkPx(),
      staleSinceSeconds: adopts ? null : staleSinceSeconds,
      lastResetSeconds: resetTracker ? now : state.lastResetSeconds,
    },
    gated: {
      pose,
      reason,
      armOnly: reason !== null && reason === arm,
      exchanged,
      resetTracker,
      restart,
    },
  };

  function isSlip(): boolean {
    return state.lastBelieved !== null && now - state.lastBelieved.timeSeconds <= LIMITS.slipSeconds
      ? !jumpBetween(state.lastBelieved.pose, pose, LIMITS.resetAfterSeconds).jumped
      : false;
  }

  function reasonOf(): GateReason | null {
    if (unsure !== null) return unsure.amongPeople ? 'two-people' : 'tracking-jump';
    if (stale && !adopts) return 'tracking-jump';
    if (undecided || doubt >= LIMITS.labelDoubtShare) return 'sides-exchanged';
    if (isFar) return 'wrong-side';
    return arm;
  }
}
