import { describe, expect, it } from 'vitest';
import { judgeSet } from '../../../src/core/exercises/judge-set.ts';
import type { Exercise } from '../../../src/core/exercises/exercise.ts';
import {
  initialLiveJudge,
  stepLiveJudge,
  type LiveEvent,
  type LiveJudge,
} from '../../../src/core/exercises/live-judge.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import type { KinematicSeries } from '../../../src/core/kinematics/kinematic-frame.ts';
import { alongLegs, secondsOfLegs, traceSeries, type Leg } from '../../helpers/kinematic-traces.ts';

const by = (exercise: Exercise) => ({
  settings: { exercise, side: 'right', variant: null, statureCm: 170 } as const,
  thresholds: DEFAULT_THRESHOLDS,
});

function series(from: number, legs: readonly Leg[]): KinematicSeries {
  const elbow = alongLegs(from, legs);
  return traceSeries({
    seconds: secondsOfLegs(legs),
    posture: (timeSeconds) => ({ elbowDeg: elbow(timeSeconds) }),
    noiseDeg: 1,
  });
}

/** Judges frame by frame, as live. */
function live({ frames }: KinematicSeries, exercise: Exercise): { judge: LiveJudge; events: LiveEvent[] } {
  const events: LiveEvent[] = [];
  let judge = initialLiveJudge(by(exercise));
  for (const frame of frames) {
    const next = stepLiveJudge(judge, frame, by(exercise));
    judge = next.judge;
    events.push(...next.events);
  }
  return { judge, events };
}

const repetition = (top: number): Leg[] => [
  { seconds: 1.5, to: top },
  { seconds: 0.4, to: top },
  { seconds: 3, to: 12 },
  { seconds: 0.8, to: 12 },
];

describe('judging while a set runs', () => {
  it('runs the hold clock to within 0.4 s of the record and says when a hold begins and ends', () => {
    const set = series(10, [
      { seconds: 2, to: 10 },
      { seconds: 1.5, to: 90 },
      { seconds: 12, to: 90 },
      { seconds: 1.5, to: 10 },
      { seconds: 2, to: 10 },
    ]);
    const { judge, events } = live(set, 'hold');
    const recorded = judgeSet(set, by('hold').settings, DEFAULT_THRESHOLDS).holds[0]?.inRangeSeconds ?? 0;
    expect(recorded).toBeGreaterThan(11);
    expect(Math.abs(judge.inRangeSeconds - recorded)).toBeLessThan(0.4);
    expect(events.map(({ kind }) => kind)).toEqual(['hold-begins', 'hold-ends']);
  });

  it('never counts a hold in an arm that hangs', () => {
    const { judge, events } = live(series(10, [{ seconds: 8, to: 12 }]), 'hold');
    expect(judge.inRangeSeconds).toBe(0);
    expect(events).toEqual([]);
  });

  it('counts each repetition once, as it ends, with its lowering time', () => {
    const set = series(12, [{ seconds: 1, to: 12 }, ...[130, 128, 131, 129].flatMap(repetition)]);
    const { judge, events } = live(set, 'free-curl');
    expect(judge.repetitions).toBe(4);
    expect(judge.partialRepetitions).toBe(0);
    expect(events).toHaveLength(4);
    expect(judge.loweringSeconds).toBeGreaterThan(2.5);
    expect(judge.loweringSeconds).toBeLessThan(3.5);
  });

  it('never takes a counted repetition back while equal ones follow', () => {
    const set = series(12, [{ seconds: 1, to: 12 }, ...[130, 129, 130, 131].flatMap(repetition)]);
    let judge = initialLiveJudge(by('free-curl'));
    const counts: number[] = [];
    for (const frame of set.frames) {
      judge = stepLiveJudge(judge, frame, by('free-curl')).judge;
      counts.push(judge.repetitions);
    }
    expect(counts).toEqual([...counts].sort((a, b) => a - b));
  });

  it('counts a partial repetition apart', () => {
    const set = series(12, [{ seconds: 1, to: 12 }, ...[130, 128, 60, 129].flatMap(repetition)]);
    const { judge } = live(set, 'free-curl');
    expect([judge.repetitions, judge.partialRepetitions]).toEqual([3, 1]);
  });

  it('names a lowering that is too fast', () => {
    const fast: Leg[] = [
      { seconds: 1.5, to: 130 },
      { seconds: 0.5, to: 130 },
      { seconds: 0.7, to: 12 },
      { seconds: 1, to: 12 },
    ];
    const { events } = live(series(12, [{ seconds: 1, to: 12 }, ...fast, ...fast]), 'free-curl');
    const flags = events.flatMap((event) =>
      event.kind === 'repetition' ? event.found.flags.map(({ kind }) => kind) : [],
    );
    expect(flags).toContain('lowering-fast');
  });

  it('says bending while the elbow bends and lowering while it straightens', () => {
    const set = series(12, [{ seconds: 1, to: 12 }, ...repetition(130)]);
    const seen = new Set<string>();
    let judge = initialLiveJudge(by('free-curl'));
    for (const frame of set.frames) {
      judge = stepLiveJudge(judge, frame, by('free-curl')).judge;
      seen.add(judge.phase);
    }
    expect([...seen]).toEqual(['rest', 'bending', 'top', 'lowering']);
  });
});
