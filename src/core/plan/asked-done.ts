import type { Dose } from './dose.ts';
import { isMeasuredExercise, type Plan, type PlannedExercise } from './plan.ts';
import type { DoneExercise, DoneSet, TrainingDay } from './training-day.ts';

/** What is asked of one set: seconds of a hold, or repetitions. */
export interface AskedSet {
  readonly amount: number;
  readonly unit: 'seconds' | 'repetitions';
  /** True of the sets at the start that are done at lower effort. */
  readonly isEasier: boolean;
}

/** One set as asked beside the same set as done. */
export interface AskedDoneSet {
  /** Counted from 1. */
  readonly setNumber: number;
  /** Null for a set beyond those that were asked. */
  readonly asked: AskedSet | null;
  /** Null when the set was not done. */
  readonly done: DoneSet | null;
  /** Seconds held or full repetitions: as measured, else as said. Null when not done, or neither measured nor said. */
  readonly doneAmount: number | null;
  readonly isMeasured: boolean;
}

/** One exercise as asked beside the same as done. */
export interface AskedDoneExercise {
  readonly exercise: PlannedExercise;
  readonly sets: readonly AskedDoneSet[];
  /**
   * Part of the asked dose that was done, 0 to 1. What one set had too much does not stand in for another. Null when some
   * set was done of which nobody knows how much.
   */
  readonly share: number | null;
  /** True when something of the exercise was begun. */
  readonly isBegun: boolean;
}

/** A whole day: what was asked, and what was done besides. */
export interface AskedDoneDay {
  readonly exercises: readonly AskedDoneExercise[];
  /** Exercises that were done without being asked, as after stepping down. */
  readonly besides: readonly DoneExercise[];
  /** Mean of the exercises' shares; null when the share of one is not known or nothing was asked. */
  readonly share: number | null;
}

/** The sets that a planned exercise asks for on one training day. */
export function askedSets({ dose }: { readonly dose: Dose }): AskedSet[] {
  return Array.from({ length: dose.sets }, (_, index) =>
    dose.kind === 'hold'
      ? { amount: dose.holdSeconds, unit: 'seconds', isEasier: index < dose.easierSetsBefore }
      : { amount: dose.repetitions, unit: 'repetitions', isEasier: false },
  );
}

/**
 * What was asked on a training day against what was done, set by set. An exercise that is asked on fewer days a week than
 * another of its stage counts only on days on which it was begun, and so does one that was not asked on this day.
 * @param plan - the version that the day followed
 */
export function askedAgainstDone(plan: Plan, day: TrainingDay): AskedDoneDay {
  const stage = plan.stages.find(({ key }) => key === day.stageKey);
  const planned = stage?.exercises ?? [];
  const mostDays = Math.max(0, ...planned.map(({ dose }) => dose.daysAWeek));
  const exercises = planned.map((exercise) =>
    againstDone(
      exercise,
      day.exercises.filter(({ exerciseKey }) => exerciseKey === exercise.key),
    ),
  );
  const counted = exercises.filter(
    ({ exercise: { key, dose }, isBegun }) =>
      isBegun || (dose.daysAWeek === mostDays && day.notAsked?.includes(key) !== true),
  );
  const shares = counted.map(({ share }) => share);
  return {
    exercises,
    besides: day.exercises.filter(({ exerciseKey }) => !planned.some(({ key }) => key === exerciseKey)),
    share:
      shares.length === 0 || shares.includes(null)
        ? null
        : sum(shares.map((share) => share ?? 0)) / shares.length,
  };
}

function againstDone(exercise: PlannedExercise, entries: readonly DoneExercise[]): AskedDoneExercise {
  const asked = askedSets(exercise);
  const done = entries.flatMap(({ sets }) => sets);
  const sets = Array.from({ length: Math.max(asked.length, done.length) }, (_, index): AskedDoneSet => {
    const doneSet = done[index] ?? null;
    return {
      setNumber: index + 1,
      asked: asked[index] ?? null,
      done: doneSet,
      doneAmount: doneSet && amountOf(doneSet, exercise),
      isMeasured: doneSet !== null && measuredAmount(doneSet, exercise) !== null,
    };
  });
  return { exercise, sets, share: shareOf(sets), isBegun: done.length > 0 };
}

function amountOf(set: DoneSet, exercise: PlannedExercise): number | null {
  const said = exercise.dose.kind === 'hold' ? set.saidDone?.holdSeconds : set.saidDone?.repetitions;
  return measuredAmount(set, exercise) ?? said ?? null;
}

function measuredAmount({ measured }: DoneSet, exercise: PlannedExercise): number | null {
  if (measured === null || !isMeasuredExercise(exercise)) return null;
  return exercise.dose.kind === 'hold' ? measured.heldSeconds : measured.repetitions;
}

function shareOf(sets: readonly AskedDoneSet[]): number | null {
  const counted = sets.flatMap(({ asked, done, doneAmount }) =>
    asked === null ? [] : [{ asked: asked.amount, done: done === null ? 0 : doneAmount }],
  );
  if (counted.some(({ done }) => done === null)) return null;
  const whole = sum(counted.map(({ asked }) => asked));
  return whole === 0 ? null : sum(counted.map(({ asked, done }) => Math.min(asked, done ?? 0))) / whole;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
