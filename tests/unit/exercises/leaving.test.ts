import { describe, expect, it } from 'vitest';
import type { Exercise } from '../../../src/core/exercises/exercise.ts';
import { hasLeftPosition, isAtWork } from '../../../src/core/exercises/leaving.ts';
import { initialLiveJudge, stepLiveJudge } from '../../../src/core/exercises/live-judge.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { alongLegs, secondsOfLegs, traceSeries, type Leg } from '../../helpers/kinematic-traces.ts';

/** Seconds into a set at which it ends because the person left, by the very judge that runs live; null: it does not. */
function leftAt(exercise: Exercise, legs: readonly Leg[]): number | null {
  const elbow = alongLegs(10, legs);
  const { frames } = traceSeries({
    seconds: secondsOfLegs(legs),
    posture: (timeSeconds) => ({ elbowDeg: elbow(timeSeconds) }),
    noiseDeg: 1,
  });
  const by = {
    settings: { exercise, side: 'right', variant: null, statureCm: 170 },
    thresholds: DEFAULT_THRESHOLDS,
  } as const;
  let judge = initialLiveJudge(by);
  let workedSeconds: number | null = null;
  for (const frame of frames) {
    judge = stepLiveJudge(judge, frame, by).judge;
    if (isAtWork(judge)) workedSeconds = frame.timeSeconds;
    if (hasLeftPosition(exercise, frame.timeSeconds - (workedSeconds ?? frame.timeSeconds)))
      return frame.timeSeconds;
  }
  return null;
}

const still = (seconds: number, deg: number): Leg => ({ seconds, to: deg });
const curl: readonly Leg[] = [
  { seconds: 2, to: 110 },
  { seconds: 3, to: 12 },
  { seconds: 1, to: 12 },
];

describe('leaving the position', () => {
  it('ends a hold some seconds after the arm has gone, and not while it is held', () => {
    const held = [still(3, 10), { seconds: 1.5, to: 90 }, still(12, 90)];
    expect(leftAt('hold', held)).toBeNull();
    const ended = leftAt('hold', [...held, { seconds: 1.5, to: 10 }, still(12, 10)]);
    // Out of the range at 16.5 s or soon after, told 5 s later.
    expect(ended).toBeGreaterThan(21);
    expect(ended).toBeLessThan(23.5);
  });

  it('ends no hold that is taken up again soon', () => {
    const away = [{ seconds: 1, to: 60 }, still(1.5, 60), { seconds: 1, to: 90 }];
    expect(leftAt('hold', [{ seconds: 2, to: 90 }, still(6, 90), ...away, still(6, 90)])).toBeNull();
  });

  it('ends repetitions after a pause that nobody makes within a set', () => {
    const three = [...curl, ...curl, ...curl];
    expect(leftAt('free-curl', [...three, still(7, 12), ...curl])).toBeNull();
    const ended = leftAt('free-curl', [...three, still(25, 12)]);
    expect(ended).toBeGreaterThan(secondsOfLegs(three) + 8);
    expect(ended).toBeLessThan(secondsOfLegs(three) + 13);
  });

  it('ends nothing before the work has begun: walking into place takes as long as it takes', () => {
    expect(leftAt('hold', [still(40, 10)])).toBeNull();
    expect(leftAt('free-curl', [still(40, 10)])).toBeNull();
  });
});
