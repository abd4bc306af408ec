import { askedSets } from '../../src/core/plan/asked-done.ts';
import { changePlan, type PlanChange } from '../../src/core/plan/change-plan.ts';
import { defaultPlan } from '../../src/core/plan/default-plan.ts';
import type { Plan, PlannedExercise } from '../../src/core/plan/plan.ts';
import { currentStage } from '../../src/core/plan/plan.ts';
import {
  DAY_FORMAT,
  DAY_SCHEMA_VERSION,
  type DoneExercise,
  type DoneSet,
  type MeasuredDone,
  type TrainingDay,
} from '../../src/core/plan/training-day.ts';

/* Invented plans and training days, for tests and for the scenario. No person stands behind them. */

export const PLAN_ID = '3f1c2b4e-8d57-4a6f-9b0e-5c2d7a91e604';

/** An invented person's plan, written on Sunday 1 March 2026, all questions answered with no. */
export function inventedPlan(): Plan {
  const person = { label: 'Invented', treatedSide: 'left', statureCm: 175, bodyMassKg: 75 } as const;
  const plan = defaultPlan(person, '2026-03-01T10:00:00+01:00', PLAN_ID);
  return { ...plan, screening: { answeredAt: plan.writtenAt, yes: [] } };
}

/** The same with two short holds a day, for the treated arm of a side: what a demo clip's person does. */
export function shortHoldPlan(treatedSide: Plan['person']['treatedSide']): Plan {
  const plan = inventedPlan();
  const stages = plan.stages.map((stage) => ({
    ...stage,
    exercises: stage.exercises.map((exercise): PlannedExercise =>
      exercise.exercise === 'hold' && exercise.dose.kind === 'hold'
        ? { ...exercise, dose: { ...exercise.dose, sets: 2, holdSeconds: 6, easierSetsBefore: 0 } }
        : exercise,
    ),
  }));
  return { ...plan, person: { ...plan.person, treatedSide }, stages };
}

/** The next version of a plan. Throws when it is refused. */
export function nextVersion(plan: Plan, change: PlanChange, moment: string, reason = 'Test.'): Plan {
  const reading = changePlan(plan, change, moment, reason);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
  return reading.plan;
}

/** How an invented day went; what is not given went as the plan asks, with pain 2 throughout. */
export interface DayAnswers {
  readonly painBefore?: number | null;
  readonly painAfter?: number | null;
  readonly painAtEnd?: number | null;
  /** Null: not answered. */
  readonly morning?: number | null;
  /** Part of each set that was done. */
  readonly done?: number;
  /** Figures of repetitions and of holds that came out otherwise. */
  readonly measured?: Partial<MeasuredDone>;
  readonly measuredHold?: Partial<MeasuredDone>;
  /** Of the judged body-moving curls of a set of eight. */
  readonly shoulderDominant?: number;
  readonly judged?: number;
  readonly handRose?: number;
  readonly hardest?: DoneSet['hardest'];
  readonly safetyYes?: TrainingDay['safetyYes'];
  readonly endedBecause?: TrainingDay['endedBecause'];
}

/** An invented training day by a plan, at six in the evening of a date of 2026 (month-day, as 03-02). */
export function dayOn(plan: Plan, date: string, answers: DayAnswers = {}): TrainingDay {
  const { painBefore = 2, painAtEnd = 2, morning = 2, safetyYes = [], endedBecause = 'done' } = answers;
  const isStarted = safetyYes.length === 0;
  return {
    format: DAY_FORMAT,
    schemaVersion: DAY_SCHEMA_VERSION,
    id: idOf(date),
    planId: plan.id,
    planVersion: plan.version,
    stageKey: plan.stageKey,
    startedAt: `2026-${date}T18:00:00+01:00`,
    endedAt: `2026-${date}T18:40:00+01:00`,
    safetyYes,
    safetyAnsweredAt: `2026-${date}T18:00:00+01:00`,
    painBefore: isStarted ? painBefore : null,
    exercises: isStarted ? currentStage(plan).exercises.map((each) => doneExercise(each, answers)) : [],
    painAtEnd: isStarted ? painAtEnd : null,
    painPlaces: [],
    endedBecause: isStarted ? endedBecause : 'safety',
    nextMorning:
      morning === null || !isStarted ? null : { answeredAt: dayAfter(date), pain: morning, painPlaces: [] },
  };
}

/** The morning after a date of 2026, at seven. */
export function dayAfter(date: string): string {
  const [month = 1, day = 1] = date.split('-').map(Number);
  const next = new Date(Date.UTC(2026, month - 1, day + 1)).toISOString().slice(0, 10);
  return `${next}T07:00:00+01:00`;
}

function idOf(date: string): string {
  return `00000000-0000-4000-8000-00002026${date.replace('-', '')}`;
}

function doneExercise(exercise: PlannedExercise, answers: DayAnswers): DoneExercise {
  const sets = askedSets(exercise).map(({ amount }) =>
    doneSet(exercise, amount * (answers.done ?? 1), answers),
  );
  return { exerciseKey: exercise.key, exercise: exercise.exercise, recordId: null, sets };
}

function doneSet(exercise: PlannedExercise, amount: number, answers: DayAnswers): DoneSet {
  const { painAfter = 2, hardest = null } = answers;
  const isMeasured = 'thresholds' in exercise;
  const whole = Math.floor(amount);
  const said =
    exercise.dose.kind === 'hold'
      ? { holdSeconds: whole, repetitions: null }
      : { holdSeconds: null, repetitions: whole };
  return {
    saidDone: isMeasured ? null : said,
    measured: isMeasured ? measuredOf(exercise, amount, answers) : null,
    painAfter,
    effort: 7,
    hardest: exercise.exercise === 'band-curl' ? hardest : null,
    painOffer: null,
  };
}

function measuredOf(
  exercise: PlannedExercise,
  amount: number,
  { measured, measuredHold, shoulderDominant = 0, judged, handRose = 0.02 }: DayAnswers,
): MeasuredDone {
  const isHold = exercise.dose.kind === 'hold';
  const repetitions = isHold ? null : Math.floor(amount);
  const isBodyCurl = exercise.exercise === 'body-curl';
  return {
    heldSeconds: isHold ? amount : null,
    meanHoldDeg: isHold ? 91 : null,
    inRangeShare: isHold ? 0.95 : null,
    handRoseUpperArms: isHold ? handRose : null,
    repetitions,
    partialRepetitions: isHold ? null : 0,
    shoulderDominant: isBodyCurl ? shoulderDominant : repetitions && 0,
    judgedRepetitions: isBodyCurl ? (judged ?? repetitions) : repetitions && 0,
    loweringSeconds: isHold ? null : 3,
    rangeDeg: isHold ? null : 75,
    shoulderShare: isBodyCurl ? 0.15 : null,
    timeUnderTensionSeconds: isHold ? amount : (repetitions ?? 0) * 6,
    elbowImpulseNms: null,
    ...(isHold ? measuredHold : measured),
  };
}
