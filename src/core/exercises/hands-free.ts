import { isMeasured } from '../kinematics/measured.ts';
import type { KinematicFrame, PlanePoint } from '../kinematics/kinematic-frame.ts';
import type { Exercise } from './exercise.ts';
import { hasLeftPosition, LEAVING_SECONDS } from './leaving.ts';
import type { Thresholds } from './thresholds.ts';

/** What is needed to start and stop a set without a hand. Common practice, no source, unless it says otherwise. */
const LIMITS = {
  /** In position and still for so long before a set starts, seconds. */
  stillSeconds: 2,
  /** Pictures further apart say nothing of what was between them, seconds. */
  longestStepSeconds: 0.5,
  /** Still: over that time the elbow's angle spreads no further, degrees: above the scatter of a live angle. */
  stillDeg: 10,
  /** Still: nor does shoulder, wrist or hip move further, upper-arm lengths (about 6 cm). */
  stillUpperArms: 0.2,
  /** Of a hold: the elbow so far beyond the target range still counts as ready for it, degrees. */
  holdBeyondDeg: 5,
  /** Of a body-moving curl: arms long, in front of a body that leans back from the bar, degrees. */
  bodyCurl: { mostFlexionDeg: 55, leastShoulderDeg: 15, leastTrunkDeg: 12 },
  /** Of a standing curl: the arm hangs, degrees. */
  standing: { mostFlexionDeg: 45, mostShoulderDeg: 35 },
  /** A hand raised for so long is meant, seconds. */
  raisedSeconds: 0.8,
} as const;

/** What of it is switched on. */
export interface HandsFreeWish {
  readonly starts: boolean;
  readonly ends: boolean;
  readonly handPauses: boolean;
}

/** One picture, with what is known beside it. */
export interface HandsFreeMoment {
  /** watching: between sets. paused-by-hand and paused: the latter waits for a key. */
  readonly stage: 'watching' | 'measuring' | 'paused-by-hand' | 'paused';
  readonly frame: KinematicFrame;
  /** The set-up check has nothing to say. */
  readonly isViewGood: boolean;
  /** Safety, the bar's seat, the questions and the rest allow a set to begin. */
  readonly mayBegin: boolean;
  /** The hand of the other arm is over the head. */
  readonly isHandRaised: boolean;
  /** Seconds since the arm was last at work in the set; 0 before it was. */
  readonly restingSeconds: number;
  readonly hasWorked: boolean;
}

/** What keeps a set from starting by itself; counting: still, and the time runs. */
export type NotYet = 'may-not' | 'view' | 'posture' | 'moving' | 'counting';

/** Carried from picture to picture. */
export interface HandsFree {
  /** Pictures in position of the last seconds. */
  readonly still: readonly KinematicFrame[];
  readonly notYet: NotYet;
  readonly raisedSinceSeconds: number | null;
  /** The hand that paused a set must come down before it does anything again. */
  readonly isRaiseUsed: boolean;
  readonly unseenSinceSeconds: number | null;
  readonly lastSeconds: number;
}

export type HandsFreeAction = 'start' | 'pause' | 'resume' | 'end';

/** Nothing seen yet. */
export const HANDS_FREE: HandsFree = {
  still: [],
  notYet: 'may-not',
  raisedSinceSeconds: null,
  isRaiseUsed: false,
  unseenSinceSeconds: null,
  lastSeconds: -Infinity,
};

/**
 * Whether a raised hand may mean anything in an exercise: only where one arm works and the body stands by itself. Hands that
 * hold a bar or the body's weight are never asked to let go.
 */
export function isOneHanded(exercise: Exercise): boolean {
  return exercise === 'band-curl' || exercise === 'free-curl';
}

/**
 * Takes in the next picture, and says what begins or ends with it. A set starts, and goes on after a pause by hand, when the
 * person has stood in the exercise's start posture, well seen and still, for 2 s; it ends when they have left it.
 */
export function stepHandsFree(
  before: HandsFree,
  moment: HandsFreeMoment,
  { exercise, thresholds, wish }: { exercise: Exercise; thresholds: Thresholds; wish: HandsFreeWish },
): { readonly state: HandsFree; readonly action: HandsFreeAction | null } {
  const { stage, frame } = moment;
  const now = frame.timeSeconds;
  const isBroken = now - before.lastSeconds > LIMITS.longestStepSeconds;
  const mayRaise = wish.handPauses && isOneHanded(exercise);
  const isRaised = mayRaise && moment.isHandRaised;
  const raisedSinceSeconds = isRaised ? ((isBroken ? null : before.raisedSinceSeconds) ?? now) : null;
  const isUnseen = !isMeasured(frame.elbowFlexionDeg);
  const state: HandsFree = {
    ...stillness(isBroken ? HANDS_FREE : before, moment, exercise, thresholds),
    raisedSinceSeconds,
    isRaiseUsed: isRaised && before.isRaiseUsed,
    unseenSinceSeconds: isUnseen ? ((isBroken ? null : before.unseenSinceSeconds) ?? now) : null,
    lastSeconds: now,
  };
  const act = (action: HandsFreeAction): { state: HandsFree; action: HandsFreeAction } => ({
    state: { ...state, still: [], isRaiseUsed: isRaised },
    action,
  });
  const isReady = isStillLongEnough(state) && !isRaised;
  if (stage === 'watching' && wish.starts && isReady) return act('start');
  if (stage === 'paused-by-hand' && wish.starts && isReady) return act('resume');
  if (stage === 'measuring' && raisedSinceSeconds !== null && !state.isRaiseUsed) {
    if (now - raisedSinceSeconds >= LIMITS.raisedSeconds) return act('pause');
  }
  if (wish.ends && hasGone(state, moment, exercise)) return act('end');
  return { state, action: null };
}

/** Seconds until a set starts by itself, of a person who stands still; null while something else is missing. */
export function secondsToStart({ notYet, still }: HandsFree): number | null {
  if (notYet !== 'counting') return null;
  return Math.max(0, LIMITS.stillSeconds - spanSeconds(still));
}

/** Left after work, or never at work and no longer there. */
function hasGone(
  { unseenSinceSeconds, lastSeconds }: HandsFree,
  { stage, restingSeconds, hasWorked }: HandsFreeMoment,
  exercise: Exercise,
): boolean {
  if (stage === 'measuring' && hasWorked) return hasLeftPosition(exercise, restingSeconds);
  if (stage !== 'measuring' && stage !== 'paused-by-hand') return false;
  return unseenSinceSeconds !== null && lastSeconds - unseenSinceSeconds > LEAVING_SECONDS.repetitions;
}

function stillness(
  before: HandsFree,
  { stage, frame, isViewGood, mayBegin }: HandsFreeMoment,
  exercise: Exercise,
  thresholds: Thresholds,
): HandsFree {
  const none = (notYet: NotYet): HandsFree => ({ ...before, still: [], notYet });
  if (!mayBegin && stage !== 'paused-by-hand') return none('may-not');
  if (!isViewGood || frame.reason !== null) return none('view');
  if (!isStartPosture(frame, exercise, thresholds)) return none('posture');
  const since = frame.timeSeconds - LIMITS.stillSeconds;
  const held = [...before.still, frame];
  // One picture older than the time is kept, so that the span can reach it.
  const firstWithin = held.findIndex(({ timeSeconds }) => timeSeconds > since);
  const still = held.slice(Math.max(0, firstWithin - 1));
  return isStill(still) ? { ...before, still, notYet: 'counting' } : { ...none('moving'), still: [frame] };
}

function isStillLongEnough({ notYet, still }: HandsFree): boolean {
  return notYet === 'counting' && spanSeconds(still) >= LIMITS.stillSeconds;
}

function spanSeconds(still: readonly KinematicFrame[]): number {
  return (still.at(-1)?.timeSeconds ?? 0) - (still[0]?.timeSeconds ?? 0);
}

function isStill(still: readonly KinematicFrame[]): boolean {
  const flexion = still.flatMap(({ elbowFlexionDeg }) =>
    isMeasured(elbowFlexionDeg) ? [elbowFlexionDeg.value] : [],
  );
  if (spreadOf(flexion) > LIMITS.stillDeg) return false;
  return (['shoulder', 'wrist', 'hip'] as const).every((joint) => {
    const places = still.flatMap(({ body }): PlanePoint[] => (body[joint] === null ? [] : [body[joint]]));
    const wide = spreadOf(places.map(({ forward }) => forward));
    return Math.hypot(wide, spreadOf(places.map(({ up }) => up))) <= LIMITS.stillUpperArms;
  });
}

function spreadOf(values: readonly number[]): number {
  return values.length === 0 ? 0 : Math.max(...values) - Math.min(...values);
}

/**
 * The posture in which a set of the exercise starts. Of a hold it is the arm already bent near the target, the hand under
 * the bar and nothing pulled yet: effort begins after the start, never before it.
 */
function isStartPosture(frame: KinematicFrame, exercise: Exercise, thresholds: Thresholds): boolean {
  const { elbowFlexionDeg, shoulderFlexionDeg, trunkInclinationDeg } = frame;
  if (!isMeasured(elbowFlexionDeg)) return false;
  const flexionDeg = elbowFlexionDeg.value;
  if (exercise === 'hold') {
    const { targetAngleDeg, toleranceDeg } = thresholds;
    return Math.abs(flexionDeg - targetAngleDeg) <= toleranceDeg + LIMITS.holdBeyondDeg;
  }
  if (!isMeasured(shoulderFlexionDeg)) return false;
  if (exercise === 'body-curl') {
    const { mostFlexionDeg, leastShoulderDeg, leastTrunkDeg } = LIMITS.bodyCurl;
    if (!isMeasured(trunkInclinationDeg) || trunkInclinationDeg.value < leastTrunkDeg) return false;
    return flexionDeg <= mostFlexionDeg && shoulderFlexionDeg.value >= leastShoulderDeg;
  }
  const { mostFlexionDeg, mostShoulderDeg } = LIMITS.standing;
  return flexionDeg <= mostFlexionDeg && Math.abs(shoulderFlexionDeg.value) <= mostShoulderDeg;
}
