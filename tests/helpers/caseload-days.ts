import type { Exercise } from '../../src/core/exercises/exercise.ts';
import { DEFAULT_THRESHOLDS } from '../../src/core/exercises/thresholds.ts';
import { beginDay, withSafetyAnswers } from '../../src/core/plan/day-turns.ts';
import {
  currentStage,
  isMeasuredExercise,
  type MeasuredPlannedExercise,
  type Plan,
} from '../../src/core/plan/plan.ts';
import type { TrainingDay } from '../../src/core/plan/training-day.ts';
import { measureAndJudge } from '../../src/core/session/build-session.ts';
import { measuredDoneOf } from '../../src/core/session/day-figures.ts';
import { encodeFrames, type FrameSeries } from '../../src/core/session/quantised-frames.ts';
import {
  RECORD_FORMAT,
  RECORD_VERSION,
  type RecordedSet,
  type SessionRecord,
  type SetFindings,
} from '../../src/core/session/session-record.ts';
import type { PoseFrame } from '../../src/core/pose/pose-frame.ts';
import { dayAfter } from './plan-days.ts';
import { bodyCurlPosture, film, repetitions, underBar, without } from './sample-films.ts';
import { STANDING, type Posture } from './synthetic-body.ts';

/* Training days of invented people with their session records, from a few short films of a stick body. */

const RATE_HZ = 15;

const FILMS = {
  hold: () => film(holdPosture(0), 11, 21, RATE_HZ),
  'hold-rose': () => film(holdPosture(0.12), 11, 22, RATE_HZ),
  'hold-unseen': () => without(film(holdPosture(0), 11, 23, RATE_HZ), 5, 8.5),
  'body-curl': () => film(repetitions([{}, {}, {}], 5, bodyCurlPosture), 17, 24, RATE_HZ),
  'body-curl-row': () => film(repetitions([{}, {}, {}], 5, rowUnderBar), 17, 25, RATE_HZ),
  'band-curl': () => film(repetitions([{}, {}, {}], 5, standingCurl), 17, 26, RATE_HZ),
  'band-curl-fast': () => film(repetitions([{}, {}, {}], 2.2, standingCurl), 9, 27, RATE_HZ),
} satisfies Record<string, () => PoseFrame[]>;
/** How a set went. */
export type FilmName = keyof typeof FILMS;

interface JudgedFilm {
  readonly findings: SetFindings;
  readonly frames: FrameSeries;
}

/** Judges a film, each one once. */
export type FilmJudge = (name: FilmName, exercise: Exercise) => JudgedFilm;

/** A judge that remembers what it has judged. */
export function filmJudge(): FilmJudge {
  const judged = new Map<FilmName, JudgedFilm>();
  return (name, exercise) => {
    const known = judged.get(name);
    if (known !== undefined) return known;
    const frames = FILMS[name]();
    const { findings } = measureAndJudge(frames, settingsOf(exercise), DEFAULT_THRESHOLDS, 'blazepose-full');
    const fresh = { findings, frames: encodeFrames(frames) };
    judged.set(name, fresh);
    return fresh;
  };
}

/** How a day is made. */
export interface DayMaking {
  /** Month and day of 2026, as 04-10. */
  readonly date: string;
  /** Tells its ids from all others'. */
  readonly number: number;
  readonly painBefore: number;
  readonly painAfter: number;
  readonly painMorning: number;
  /** How the sets of the film's exercise went; null: all as asked. */
  readonly odd: FilmName | null;
  readonly judge: FilmJudge;
}

/** A day as asked by the plan's stage, with the record of each exercise. */
export function madeDay(
  plan: Plan,
  making: DayMaking,
): { readonly day: TrainingDay; readonly records: readonly SessionRecord[] } {
  const { date, number, painBefore, painAfter, painMorning } = making;
  const begun = beginDay(plan, idOf(2, number), at(date, '18:00'));
  const made = currentStage(plan)
    .exercises.filter(isMeasuredExercise)
    .map((planned, place) => ({ planned, record: recordOf(plan, planned, { ...making, place }) }));
  const day: TrainingDay = {
    ...withSafetyAnswers(begun, [], begun.startedAt),
    endedAt: at(date, '18:50'),
    painBefore,
    exercises: made.map(({ planned, record }) => ({
      exerciseKey: planned.key,
      exercise: planned.exercise,
      recordId: record.id,
      sets: record.sets.map((set) => ({
        saidDone: null,
        measured: measuredDoneOf(set, planned.exercise === 'hold' ? 'hold' : 'repetitions'),
        painAfter,
        effort: 7,
        hardest: null,
        painOffer: null,
      })),
    })),
    painAtEnd: painAfter,
    endedBecause: 'done',
    nextMorning: { answeredAt: dayAfter(date), pain: painMorning, painPlaces: [] },
  };
  return { day, records: made.map(({ record }) => record) };
}

/** A day that a yes ended before it began. */
export function madeYes(plan: Plan, date: string, number: number): TrainingDay {
  const begun = beginDay(plan, idOf(2, number), at(date, '18:00'));
  return withSafetyAnswers(begun, ['pop', 'bruising'], at(date, '18:01'));
}

/** An id that tells what it is of (1 plan, 2 day, 3 record) and which one. */
export function idOf(kind: number, number: number): string {
  return `00000000-000${kind}-4000-8000-${String(number).padStart(12, '0')}`;
}

function recordOf(
  plan: Plan,
  planned: MeasuredPlannedExercise,
  { date, number, painBefore, painAfter, odd, judge, place }: DayMaking & { readonly place: number },
): SessionRecord {
  const { exercise } = planned;
  const name = odd?.startsWith(exercise) ? odd : filmAsAsked(exercise);
  const { findings, frames } = judge(name, exercise);
  const minute = (ofDay: number): string => `18:${String(ofDay).padStart(2, '0')}`;
  return {
    format: RECORD_FORMAT,
    schemaVersion: RECORD_VERSION,
    id: idOf(3, number * 10 + place),
    createdAt: at(date, minute(5 + place * 20)),
    software: { name: 'Forearmed', version: '0.1.0' },
    estimator: { model: 'blazepose-full', runtime: 'stick body, seeded', modelSha256s: ['a'.repeat(64)] },
    source: {
      kind: 'camera',
      label: 'Invented camera',
      durationSeconds: null,
      widthPx: 640,
      heightPx: 480,
    },
    settings: settingsOf(exercise),
    thresholds: DEFAULT_THRESHOLDS,
    plan: {
      planId: plan.id,
      planVersion: plan.version,
      stageKey: plan.stageKey,
      exerciseKey: planned.key,
      dayId: idOf(2, number),
    },
    sets: [0, 1].map((set): RecordedSet => ({
      ...findings,
      startedAt: at(date, minute(6 + place * 20 + set * 4)),
      cutOff: false,
      cues: [],
      pauses: [],
      tile: null,
      answers: {
        painBefore,
        painAfter,
        effortAfterHolds: findings.judgement.holds.map(() => 7),
        effort: exercise === 'hold' ? null : 6,
        hardest: null,
      },
      frames,
    })),
  };
}

function settingsOf(exercise: Exercise): SessionRecord['settings'] {
  return {
    exercise,
    side: 'left',
    variant: exercise === 'band-curl' ? 'supinated' : null,
    statureCm: 175,
  };
}

function filmAsAsked(exercise: Exercise): FilmName {
  if (exercise === 'free-curl') throw new Error('The scenario has no free curls.');
  return exercise;
}

/** Nearly right-angled for eight seconds; the whole body, and with it the hand, rises by so many metres meanwhile. */
function holdPosture(riseM: number): (timeSeconds: number) => Posture {
  return (timeSeconds) => {
    const ease = Math.min(1, Math.max(0, timeSeconds - 0.5), Math.max(0, 10.5 - timeSeconds));
    const risen = Math.min(1, Math.max(0, (timeSeconds - 4) / 2));
    return {
      ...STANDING,
      elbowFlexionDeg: 15 + 75 * ease,
      pelvisUpM: STANDING.pelvisUpM + riseM * risen,
    };
  };
}

/** The shoulder, not the elbow, brings the body to a low bar. */
function rowUnderBar(amount: number): Posture {
  return underBar(12 + 92 * amount, 40 - 70 * amount);
}

function standingCurl(amount: number): Posture {
  return { ...STANDING, elbowFlexionDeg: 12 + 115 * amount };
}

function at(date: string, time: string): string {
  return `2026-${date}T${time}:00+02:00`;
}
