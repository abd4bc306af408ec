import type { Dose } from './dose.ts';
import { mayExerciseStart, type HoldClearance } from './may-start.ts';
import { currentStage, type Plan, type PlannedExercise } from './plan.ts';
import { exercisesToday, type ExerciseDue } from './weeks.ts';
import { type DoneExercise, type DoneSet, type MeasuredDone, type TrainingDay } from './training-day.ts';

/** A shortened set has this share of what was asked. Common practice, no source. */
const SHORTENED_SHARE = 0.5;
/** The least that a dose may ask for: seconds of a hold, repetitions. As in dose.ts. */
const LEAST = { hold: 3, repetitions: 1 } as const;

/** A set of which nothing was measured or said yet. */
export const OPEN_SET: DoneSet = {
  saidDone: null,
  measured: null,
  painAfter: null,
  effort: null,
  hardest: null,
  painOffer: null,
};

/** The sets of an exercise that were done, in order: of all its session records, and of none. */
export function setsDone(day: TrainingDay, exerciseKey: string): readonly DoneSet[] {
  return day.exercises.filter((done) => done.exerciseKey === exerciseKey).flatMap(({ sets }) => sets);
}

/** The day with one more set: beside the sets of the same record, or as the first of a new one. */
export function withSet(
  day: TrainingDay,
  { exerciseKey, exercise, recordId }: Omit<DoneExercise, 'sets'>,
  set: DoneSet,
): TrainingDay {
  const last = day.exercises.at(-1);
  if (last !== undefined && last.exerciseKey === exerciseKey && last.recordId === recordId)
    return { ...day, exercises: day.exercises.with(-1, { ...last, sets: [...last.sets, set] }) };
  return { ...day, exercises: [...day.exercises, { exerciseKey, exercise, recordId, sets: [set] }] };
}

/** The day with something changed of the set that was done last. Throws when no set was done. */
export function withLastSet(day: TrainingDay, change: Partial<DoneSet>): TrainingDay {
  const exercise = day.exercises.at(-1);
  const set = exercise?.sets.at(-1);
  if (exercise === undefined || set === undefined) throw new Error('withLastSet: no set was done.');
  const sets = exercise.sets.with(-1, { ...set, ...change });
  return { ...day, exercises: day.exercises.with(-1, { ...exercise, sets }) };
}

/**
 * The day without the set that was done last: it was none. Of one with a session record the day remembers it, so that it does
 * not come back from there. Throws when no set was done.
 */
export function withoutLastSet(day: TrainingDay): TrainingDay {
  const exercise = day.exercises.at(-1);
  if (exercise === undefined || exercise.sets.length === 0)
    throw new Error('withoutLastSet: no set was done.');
  const sets = exercise.sets.slice(0, -1);
  const others = day.exercises.slice(0, -1);
  const left = { ...day, exercises: sets.length === 0 ? others : [...others, { ...exercise, sets }] };
  const { recordId } = exercise;
  if (recordId === null) return left;
  const before = day.droppedSets ?? [];
  const count = 1 + (before.find((dropped) => dropped.recordId === recordId)?.count ?? 0);
  const ofOthers = before.filter((dropped) => dropped.recordId !== recordId);
  return { ...left, droppedSets: [...ofOthers, { recordId, count }] };
}

/** The day on which somebody goes on with an exercise that was ended for pain, by their own choice. */
export function wentOn(day: TrainingDay, exerciseKey: string): TrainingDay {
  const place = day.exercises.findLastIndex((done) => done.exerciseKey === exerciseKey);
  const exercise = day.exercises[place];
  const set = exercise?.sets.at(-1);
  if (exercise === undefined || set === undefined) return day;
  const sets = exercise.sets.with(-1, { ...set, painOffer: 'went-on' });
  return { ...day, exercises: day.exercises.with(place, { ...exercise, sets }) };
}

/** The day with the impulse of a set that was measured before; sets are told apart by what was measured of them. */
export function withImpulse(
  day: TrainingDay,
  measured: MeasuredDone,
  elbowImpulseNms: MeasuredDone['elbowImpulseNms'],
): TrainingDay {
  const sets = (of: readonly DoneSet[]): DoneSet[] =>
    of.map((set) =>
      set.measured === measured ? { ...set, measured: { ...measured, elbowImpulseNms } } : set,
    );
  return { ...day, exercises: day.exercises.map((done) => ({ ...done, sets: sets(done.sets) })) };
}

/** How many sets of a session record the day knows: those that it has, and those that were none. */
export function setsOfRecord(day: TrainingDay, recordId: string): number {
  const has = day.exercises.filter((done) => done.recordId === recordId).flatMap(({ sets }) => sets).length;
  return has + (day.droppedSets?.find((dropped) => dropped.recordId === recordId)?.count ?? 0);
}

/** How an exercise of the day stands. */
export interface ExerciseCourse {
  readonly planned: PlannedExercise;
  /** What is asked for from now on: changed where pain passed the ceiling and less was chosen. */
  readonly dose: Dose;
  readonly done: readonly DoneSet[];
  /** ended: for pain, before all sets were done. */
  readonly state: 'open' | 'done' | 'ended';
  readonly clearance: HoldClearance;
  /** Whether the plan asks for it today; it may be done all the same. */
  readonly due: ExerciseDue;
}

/**
 * The exercises of the stage in order, each as it stands.
 * @param days - all training days of the plan, this one among them or not: what was done this week is not asked again
 */
export function courseOf(
  plan: Plan,
  day: TrainingDay | null,
  days: readonly TrainingDay[],
): readonly ExerciseCourse[] {
  const dues = day === null ? [] : exercisesToday(plan, days, day);
  return currentStage(plan).exercises.map((planned, index) => {
    const done = day === null ? [] : setsDone(day, planned.key);
    const isDone = done.length >= planned.dose.sets;
    const isEnded = done.at(-1)?.painOffer === 'end-set';
    const state = isDone ? 'done' : isEnded ? 'ended' : 'open';
    return {
      planned,
      dose: doseNow(plan, planned, done),
      done,
      state,
      clearance: mayExerciseStart(plan, planned),
      due: dues[index] ?? { isAsked: true },
    };
  });
}

/** The exercise that comes next: the first that is asked today, open and may start; null when there is none. */
export function nextOf(course: readonly ExerciseCourse[]): ExerciseCourse | null {
  return (
    course.find(({ state, clearance, due }) => state === 'open' && clearance.mayStart && due.isAsked) ?? null
  );
}

/** The same exercise as the stage before asks for it; null where there is none. */
export function stageBefore(plan: Plan, { exercise, dose }: PlannedExercise): PlannedExercise | null {
  const stage = plan.stages[plan.stages.findIndex(({ key }) => key === plan.stageKey) - 1];
  return (
    stage?.exercises.find((before) => before.exercise === exercise && before.dose.kind === dose.kind) ?? null
  );
}

/** The dose after what was chosen when pain passed the ceiling; the latest choice counts. */
function doseNow(plan: Plan, planned: PlannedExercise, done: readonly DoneSet[]): Dose {
  const chosen = done.findLast(({ painOffer }) => painOffer === 'shorten' || painOffer === 'step-down');
  if (chosen?.painOffer === 'shorten') return shortened(planned.dose);
  const before = chosen === undefined ? null : stageBefore(plan, planned);
  return before === null ? planned.dose : { ...before.dose, sets: planned.dose.sets };
}

/** The same dose with less of it in each set. */
export function shortened(dose: Dose): Dose {
  const less = (asked: number): number => Math.max(LEAST[dose.kind], Math.floor(asked * SHORTENED_SHARE));
  return dose.kind === 'hold'
    ? { ...dose, holdSeconds: less(dose.holdSeconds) }
    : { ...dose, repetitions: less(dose.repetitions) };
}

/**
 * The day as it is closed: done when every set that was asked and may be done was, pain where an exercise was ended for it.
 * It remembers what was not asked.
 * @param days - as for courseOf
 */
export function endDay(
  day: TrainingDay,
  plan: Plan,
  endedAt: string,
  days: readonly TrainingDay[],
): TrainingDay {
  const course = courseOf(plan, day, days);
  const isAllDone = nextOf(course) === null;
  const isForPain = course.some(({ state }) => state === 'ended');
  const notAsked = course
    .filter(({ due, done }) => !due.isAsked && done.length === 0)
    .map(({ planned }) => planned.key);
  return {
    ...day,
    endedAt,
    endedBecause: isForPain ? 'pain' : isAllDone ? 'done' : 'stopped',
    ...(notAsked.length === 0 ? {} : { notAsked }),
  };
}
