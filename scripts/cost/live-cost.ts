import { initialLiveJudge, stepLiveJudge } from '../../src/core/exercises/live-judge.ts';
import type { ExerciseSettings } from '../../src/core/exercises/exercise.ts';
import { DEFAULT_THRESHOLDS } from '../../src/core/exercises/thresholds.ts';
import { NO_COURSE, stepCueCourse } from '../../src/core/feedback/cue-course.ts';
import { LiveMeasurer } from '../../src/core/kinematics/live-measurer.ts';
import { quantile } from '../../src/core/math/statistics.ts';
import { poseFollower } from '../../src/core/pose/pose-follower.ts';
import type { PoseFrame } from '../../src/core/pose/pose-frame.ts';
import { SessionRecorder } from '../../src/core/session/recorder.ts';
import { MemorySessionStore } from '../../src/adapters/storage/memory-session-store.ts';
import { sampleHeader } from '../../tests/unit/session/sample-session.ts';
import { RATE_HZ } from './cost-set.ts';

/** What one part of the live chain takes for a frame, microseconds. */
export interface PartCost {
  readonly part: string;
  readonly medianUs: number;
  readonly p95Us: number;
  /** Median over the last minute: above that of the whole, something grows with the length of the set. */
  readonly lastMinuteUs: number;
}

/** Frames in which the engine compiles what it runs; they are run and not counted. */
const WARM_UP_FRAMES = 300;
const MINUTE_FRAMES = 60 * RATE_HZ;

/**
 * Runs the live chain over a set, frame by frame as the app does, and gives the time of each part and of all of them
 * together. The estimator is left out: its answer is what goes in.
 */
export async function liveCosts(
  frames: readonly PoseFrame[],
  settings: ExerciseSettings,
): Promise<readonly PartCost[]> {
  const spentUs = new Map<string, number[]>();
  let frameUs = new Map<string, number>();
  const by = { settings, thresholds: DEFAULT_THRESHOLDS };
  const measurer = new LiveMeasurer(settings);
  let judge = initialLiveJudge(by);
  let course = NO_COURSE;
  const task = { exercise: settings.exercise, thresholds: DEFAULT_THRESHOLDS, asked: null };
  const follower = poseFollower(replayed(frames), settings.side);
  const recorder = new SessionRecorder({
    store: new MemorySessionStore(),
    header: sampleHeader(settings.exercise),
    nowSeconds: () => performance.now() / 1000,
  });
  recorder.beginSet({ startedAt: '2026-03-02T18:10:00.000+01:00', painBefore: null });
  const timed = <Result>(part: string, work: () => Result): Result => {
    const from = performance.now();
    const result = work();
    frameUs.set(part, (performance.now() - from) * 1000);
    return result;
  };
  for (const [index, { timeSeconds, widthPx, heightPx, brightness }] of frames.entries()) {
    frameUs = new Map();
    const from = performance.now();
    const seen = await follower.follow({ picture: index, timeSeconds, widthPx, heightPx, brightness });
    frameUs.set('gate in the follower', (performance.now() - from) * 1000);
    const { frame } = timed('kinematics', () => measurer.step(seen));
    const stepped = timed('judging', () => stepLiveJudge(judge, frame, by));
    judge = stepped.judge;
    const moment = { timeSeconds, isSpeaking: false };
    course = timed('cues', () => stepCueCourse(course, stepped, task, moment)).course;
    timed('recording', () => {
      recorder.addFrame(seen);
    });
    frameUs.set(
      'all together',
      [...frameUs.values()].reduce((sum, us) => sum + us, 0),
    );
    if (index < WARM_UP_FRAMES) continue;
    for (const [part, us] of frameUs) {
      const all = spentUs.get(part) ?? [];
      all.push(us);
      spentUs.set(part, all);
    }
  }
  return [...spentUs].map(([part, all]) => ({
    part,
    medianUs: quantile(all, 0.5) ?? 0,
    p95Us: quantile(all, 0.95) ?? 0,
    lastMinuteUs: quantile(all.slice(-MINUTE_FRAMES), 0.5) ?? 0,
  }));
}

/** An estimator that has seen the frames already. */
function replayed(frames: readonly PoseFrame[]): Parameters<typeof poseFollower<number>>[0] {
  return {
    identity: sampleHeader().estimator,
    estimate: (index) =>
      Promise.resolve({ pose: frames[index]?.pose ?? null, people: frames[index]?.people ?? null }),
    reset: () => Promise.resolve(),
    dispose: () => undefined,
  };
}
