import { initialLiveJudge, stepLiveJudge } from '../../src/core/exercises/live-judge.ts';
import type { Exercise } from '../../src/core/exercises/exercise.ts';
import { DEFAULT_THRESHOLDS, type Thresholds } from '../../src/core/exercises/thresholds.ts';
import { NO_COURSE, stepCueCourse } from '../../src/core/feedback/cue-course.ts';
import type { Cue } from '../../src/core/feedback/cue-table.ts';
import type { KinematicFrame } from '../../src/core/kinematics/kinematic-frame.ts';
import type { AskedSet } from '../../src/core/plan/asked-done.ts';

/** A cue with the moment in which it began, in the clock of the frames. */
export interface TimedCue {
  readonly timeSeconds: number;
  readonly cue: Cue;
}

/** The cues that are given over a set, frame by frame as live, where nobody hears a voice. */
export function cuesOfSet(
  frames: Iterable<KinematicFrame>,
  exercise: Exercise,
  {
    asked = null,
    thresholds = DEFAULT_THRESHOLDS,
  }: { asked?: AskedSet | null; thresholds?: Thresholds } = {},
): readonly TimedCue[] {
  const by = { settings: { exercise, side: 'right', variant: null, statureCm: 170 } as const, thresholds };
  const task = { exercise, thresholds, asked };
  let judge = initialLiveJudge(by);
  let course = NO_COURSE;
  const cues: TimedCue[] = [];
  for (const frame of frames) {
    const stepped = stepLiveJudge(judge, frame, by);
    judge = stepped.judge;
    const { timeSeconds } = frame;
    const next = stepCueCourse(course, stepped, task, { timeSeconds, isSpeaking: false });
    course = next.course;
    if (next.given !== null) cues.push({ timeSeconds, cue: next.given });
  }
  return cues;
}
