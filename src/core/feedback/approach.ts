import type { Exercise } from '../exercises/exercise.ts';
import { isMeasured, type Measured } from '../kinematics/measured.ts';
import type { SetupAdvice } from './setup-advice.ts';

/**
 * From the open camera to the first set, one thing at a time and without a key: what to do, where to stand, for a hold the
 * right angle before any effort, for a bar a light test pull, and then the set may begin. Waits are common practice, no source.
 */
export type ApproachStep = 'what-to-do' | 'where-to-stand' | 'right-angle' | 'test-pull' | 'ready';

const STEPS: Readonly<Record<Exercise, readonly ApproachStep[]>> = {
  hold: ['what-to-do', 'where-to-stand', 'right-angle', 'test-pull', 'ready'],
  'body-curl': ['what-to-do', 'where-to-stand', 'test-pull', 'ready'],
  'band-curl': ['what-to-do', 'where-to-stand', 'ready'],
  'free-curl': ['what-to-do', 'where-to-stand', 'ready'],
};

const WAITS = {
  /** A view that is good stays so for this long, seconds. */
  goodViewSeconds: 1.5,
  /** A view that is only usable is talked about for so long, and then taken, seconds. */
  usableViewSeconds: 8,
  /** A view that is lost for this long leads back, seconds. */
  lostViewSeconds: 4,
  /** The elbow is in the range and stays there, seconds. */
  angleSeconds: 2,
  /** The light pull, seconds. */
  testPullSeconds: 6,
} as const;

/** The elbow may move so far during a light pull, degrees; beyond it the hand moved: the bar, or the person. */
const TEST_PULL_MOVE_DEG = 8;

/** What the approach knows at a moment. */
export interface ApproachFacts {
  /** The demonstration has been shown once, or was passed. */
  readonly isShown: boolean;
  /** Null while no picture was looked at. */
  readonly advice: Pick<SetupAdvice, 'isGood' | 'isUsable'> | null;
  /** Another network is being loaded, or no picture comes: nothing is taken for seen. */
  readonly isUnsettled: boolean;
  readonly elbowFlexionDeg: Measured;
  /** The range in which a hold's elbow must be, degrees; null for other exercises. */
  readonly target: { readonly low: number; readonly high: number } | null;
}

/** Where the approach stands. */
export interface Approach {
  readonly exercise: Exercise;
  readonly step: ApproachStep;
  /** When the step began. */
  readonly sinceSeconds: number;
  /** Since when the view is good, usable, lost, and the elbow in its range; null while it is not. */
  readonly goodSinceSeconds: number | null;
  readonly usableSinceSeconds: number | null;
  readonly lostSinceSeconds: number | null;
  readonly inRangeSinceSeconds: number | null;
  /** The elbow at the beginning of the test pull, degrees. */
  readonly pulledFromDeg: number | null;
  /** The elbow moved in the last test pull. */
  readonly hasMoved: boolean;
}

/** An approach at its beginning. */
export function beginApproach(exercise: Exercise, timeSeconds: number): Approach {
  return {
    exercise,
    step: 'what-to-do',
    sinceSeconds: timeSeconds,
    goodSinceSeconds: null,
    usableSinceSeconds: null,
    lostSinceSeconds: null,
    inRangeSinceSeconds: null,
    pulledFromDeg: null,
    hasMoved: false,
  };
}

/** The steps of an exercise in order. */
export function approachSteps(exercise: Exercise): readonly ApproachStep[] {
  return STEPS[exercise];
}

/** The approach after its step was passed by hand: the person says that it is done. */
export function passStep(approach: Approach, timeSeconds: number): Approach {
  return goTo(approach, following(approach), timeSeconds);
}

/** The approach at the step before; at the first one it stays. */
export function stepBack(approach: Approach, timeSeconds: number): Approach {
  const steps = STEPS[approach.exercise];
  return goTo(approach, steps[Math.max(0, steps.indexOf(approach.step) - 1)] ?? approach.step, timeSeconds);
}

/** The approach a moment later; times rise. Once ready it stays ready. */
export function stepApproach(before: Approach, facts: ApproachFacts, timeSeconds: number): Approach {
  const approach = noted(before, facts, timeSeconds);
  const lasted = (since: number | null, seconds: number): boolean =>
    since !== null && timeSeconds - since >= seconds;
  const isLost = lasted(approach.lostSinceSeconds, WAITS.lostViewSeconds);
  switch (approach.step) {
    case 'what-to-do':
      return facts.isShown ? passStep(approach, timeSeconds) : approach;
    case 'where-to-stand': {
      const isSeen =
        lasted(approach.goodSinceSeconds, WAITS.goodViewSeconds) ||
        lasted(approach.usableSinceSeconds, WAITS.usableViewSeconds);
      return isSeen ? passStep(approach, timeSeconds) : approach;
    }
    case 'right-angle':
      if (isLost) return goTo(approach, 'where-to-stand', timeSeconds);
      return lasted(approach.inRangeSinceSeconds, WAITS.angleSeconds)
        ? passStep(approach, timeSeconds)
        : approach;
    case 'test-pull':
      return stepTestPull(approach, facts, isLost, timeSeconds);
    case 'ready':
      return approach;
  }
}

/** Of a hold the light pull counts only while the elbow is seen, and ends at once when it moves. */
function stepTestPull(
  approach: Approach,
  { elbowFlexionDeg, target }: ApproachFacts,
  isLost: boolean,
  timeSeconds: number,
): Approach {
  if (isLost) return goTo(approach, 'where-to-stand', timeSeconds);
  const isHold = target !== null;
  if (isHold && isMeasured(elbowFlexionDeg)) {
    const { value } = elbowFlexionDeg;
    if (approach.pulledFromDeg === null) return { ...approach, pulledFromDeg: value };
    if (Math.abs(value - approach.pulledFromDeg) > TEST_PULL_MOVE_DEG)
      return { ...goTo(approach, 'right-angle', timeSeconds), hasMoved: true };
  }
  const isOver = timeSeconds - approach.sinceSeconds >= WAITS.testPullSeconds;
  return isOver && (!isHold || approach.pulledFromDeg !== null) ? passStep(approach, timeSeconds) : approach;
}

/** The approach with since when each thing lasts. */
function noted(
  approach: Approach,
  { advice, isUnsettled, elbowFlexionDeg, target }: ApproachFacts,
  timeSeconds: number,
): Approach {
  const since = (before: number | null, holds: boolean): number | null =>
    holds ? (before ?? timeSeconds) : null;
  const isUsable = !isUnsettled && advice?.isUsable === true;
  const isInRange =
    isUsable &&
    target !== null &&
    isMeasured(elbowFlexionDeg) &&
    elbowFlexionDeg.value >= target.low &&
    elbowFlexionDeg.value <= target.high;
  return {
    ...approach,
    goodSinceSeconds: since(approach.goodSinceSeconds, isUsable && advice.isGood),
    usableSinceSeconds: since(approach.usableSinceSeconds, isUsable),
    lostSinceSeconds: since(approach.lostSinceSeconds, !isUsable),
    inRangeSinceSeconds: since(approach.inRangeSinceSeconds, isInRange),
  };
}

function goTo(approach: Approach, step: ApproachStep, timeSeconds: number): Approach {
  if (step === approach.step) return approach;
  return { ...beginApproach(approach.exercise, timeSeconds), step };
}

function following({ exercise, step }: Approach): ApproachStep {
  const steps = STEPS[exercise];
  return steps[steps.indexOf(step) + 1] ?? step;
}
