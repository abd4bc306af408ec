import type { Exercise } from '../../../src/core/exercises/exercise.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import type { Plan } from '../../../src/core/plan/plan.ts';
import { measureAndJudge } from '../../../src/core/session/build-session.ts';
import { encodeFrames } from '../../../src/core/session/quantised-frames.ts';
import {
  RECORD_FORMAT,
  RECORD_VERSION,
  type RecordedSet,
  type SessionHeader,
  type SessionRecord,
} from '../../../src/core/session/session-record.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';
import { bodyCurlPosture, film, repetitions, without } from '../../helpers/sample-films.ts';
import { STANDING, type Posture } from '../../helpers/synthetic-body.ts';

/*
 * Session records of an invented person, made from a stick body by the code of the app. Everything is seeded: the
 * same records each time.
 */

function header(exercise: Exercise, index: number, statureCm: number | null): SessionHeader {
  return {
    format: RECORD_FORMAT,
    schemaVersion: RECORD_VERSION,
    id: `00000000-0000-4000-8000-00000000000${index.toString()}`,
    createdAt: `2026-03-0${(index + 1).toString()}T18:05:09.250+01:00`,
    software: { name: 'Forearmed', version: '0.1.0' },
    estimator: { model: 'blazepose-full', runtime: 'stick body, seeded', modelSha256s: ['a'.repeat(64)] },
    source: { kind: 'clip', label: `${exercise}.mp4`, durationSeconds: 40, widthPx: 640, heightPx: 480 },
    settings: { exercise, side: 'left', variant: exercise === 'band-curl' ? 'supinated' : null, statureCm },
    thresholds: DEFAULT_THRESHOLDS,
    plan: null,
  };
}

function recordOf(head: SessionHeader, films: readonly PoseFrame[][]): SessionRecord {
  const sets = films.map((frames, index): RecordedSet => {
    const { findings } = measureAndJudge(frames, head.settings, head.thresholds);
    return {
      ...findings,
      startedAt: `${head.createdAt.slice(0, 14)}1${index.toString()}:00.000+01:00`,
      cutOff: false,
      cues: [],
      pauses: [],
      tile: null,
      answers: {
        painBefore: 2,
        painAfter: index === 0 ? 2 : null,
        effortAfterHolds: findings.judgement.holds.map((_, hold) => (hold === 0 && index === 0 ? 7 : null)),
        effort: head.settings.exercise === 'hold' ? null : 6,
        hardest: head.settings.exercise === 'band-curl' ? 'bent' : null,
      },
      frames: encodeFrames(frames),
    };
  });
  return { ...head, sets };
}

function holdPosture(timeSeconds: number): Posture {
  const ease = Math.min(1, Math.max(0, (timeSeconds - 2) / 1.5), Math.max(0, (34 - timeSeconds) / 1.5));
  const slip = timeSeconds > 16 && timeSeconds < 21 ? 17 * Math.sin((Math.PI * (timeSeconds - 16)) / 5) : 0;
  const wander = 2 * Math.sin(timeSeconds / 3);
  return { ...STANDING, elbowFlexionDeg: 15 + ease * 75 + slip + wander };
}

/** A hold that drifts out once and comes back, with a gap; a second set without trouble. */
export function holdRecord(): SessionRecord {
  const first = without(film(holdPosture, 37, 3), 27, 28.2);
  const second = film((time) => holdPosture(time > 15 ? time + 6 : time), 31, 4);
  return recordOf(header('hold', 1, 178), [first, second]);
}

/** The plan of the body-moving curl: two hands on the bar of that body. */
export function followedPlan(): Plan {
  const plan = inventedPlan();
  const equipment = { kind: 'body-curl-set-up', barHeightM: 1.38, feetForwardM: 0.7, hands: 2 } as const;
  const stages = plan.stages.map((stage) => ({
    ...stage,
    exercises: stage.exercises.map((each) => (each.exercise === 'body-curl' ? { ...each, equipment } : each)),
  }));
  return { ...plan, stages };
}

/** A body-moving curl: the third repetition is a row, the fifth stops early. */
export function bodyCurlRecord(): SessionRecord {
  const plan = [{}, { row: 0.08 }, { row: 1 }, {}, { range: 0.5 }];
  const frames = film(repetitions(plan, 5, bodyCurlPosture), 29, 5);
  const followed = {
    planId: followedPlan().id,
    planVersion: 1,
    stageKey: 'body-curl',
    exerciseKey: 'body-curl',
    dayId: '00000000-0000-4000-8000-000020260303',
  };
  return recordOf({ ...header('body-curl', 2, 178), plan: followed }, [frames]);
}

/** A band curl of six without a stature; the fourth is partial, the second lowered fast. */
export function bandCurlRecord(): SessionRecord {
  const plan = [{}, {}, {}, { range: 0.45 }, {}, {}];
  const curl = repetitions(plan, 4.2, (amount) => ({ ...STANDING, elbowFlexionDeg: 12 + 115 * amount }));
  return recordOf(header('band-curl', 3, null), [film(curl, 29, 6)]);
}
