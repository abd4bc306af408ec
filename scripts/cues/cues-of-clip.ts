import type { ClipTruth } from '../../demo-clips/generator/truth-schema.ts';
import { initialLiveJudge, stepLiveJudge } from '../../src/core/exercises/live-judge.ts';
import { NO_COURSE, stepCueCourse, type CueTask } from '../../src/core/feedback/cue-course.ts';
import type { Cue } from '../../src/core/feedback/cue-table.ts';
import { LiveMeasurer } from '../../src/core/kinematics/live-measurer.ts';
import { decodeFrames } from '../../src/core/session/quantised-frames.ts';
import type { SessionRecord } from '../../src/core/session/session-record.ts';

/** A cue with the moment of the clip in which it began. */
export interface TimedCue {
  readonly timeSeconds: number;
  readonly cue: Cue;
}

/** What a plan would ask of the hold, seconds: less than the clip's person holds, so that its end is told. */
const ASKED_HOLD_SECONDS = 12;

/** The cues that a measured clip gives, picture by picture, and what was asked. All full repetitions are asked for. */
export function cuesOfClip(
  { settings, thresholds, estimator, sets }: SessionRecord,
  truth: ClipTruth,
): { readonly cues: readonly TimedCue[]; readonly task: CueTask } {
  const amount = truth.repetitions.filter(({ partial }) => !partial).length;
  const asked =
    settings.exercise === 'hold'
      ? ({ amount: ASKED_HOLD_SECONDS, unit: 'seconds', isEasier: false } as const)
      : ({ amount, unit: 'repetitions', isEasier: false } as const);
  const task = { exercise: settings.exercise, thresholds, asked };
  const cues: TimedCue[] = [];
  for (const set of sets) {
    const measurer = new LiveMeasurer(settings);
    let judge = initialLiveJudge({ settings, thresholds });
    let course = NO_COURSE;
    for (const picture of decodeFrames(set.frames)) {
      const { frame } = measurer.step(picture, estimator.model);
      const stepped = stepLiveJudge(judge, frame, { settings, thresholds });
      judge = stepped.judge;
      const { timeSeconds } = picture;
      const next = stepCueCourse(course, stepped, task, { timeSeconds, isSpeaking: false });
      course = next.course;
      if (next.given !== null) cues.push({ timeSeconds, cue: next.given });
    }
  }
  return { cues, task };
}
