import { dayOf } from './calendar.ts';
import type { Dose } from './dose.ts';
import { mayExerciseStart, type HoldClearance } from './may-start.ts';
import { currentStage, type Plan, type PlannedExercise } from './plan.ts';
import {
  DAY_FORMAT,
  DAY_SCHEMA_VERSION,
  type DoneExercise,
  type DoneSet,
  type MeasuredDone,
  type TrainingDay,
} from './training-day.ts';

/** A shortened set has this share of what was asked. Common practice, no source. */
const SHORTENED_SHARE = 0.5;
/** The least that a dose may ask for: seconds of a hold, repetitions. As in dose.ts. */
const LEAST = { hold: 3, repetitions: 1 } as const;

/** A training day before anything was asked or done. */
export function beginDay(plan: Plan, id: string, startedAt: string): TrainingDay {
  return {
    format: DAY_FORMAT,
    schemaVersion: DAY_SCHEMA_VERSION,
    id,
    planId: plan.id,
    planVersion: plan.version,
    stageKey: plan.stageKey,
    startedAt,
    endedAt: null,
    safetyYes: [],
    safetyAnsweredAt: null,
    painBefore: null,
    exercises: [],
    painAtEnd: null,
    painPlaces: [],
    endedBecause: null,
    nextMorning: null,
  };
}

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

/** The day without the set that was done last. Throws when no set was done. */
export function withoutLastSet(day: TrainingDay): TrainingDay {
  const exercise = day.exercises.at(-1);
  if (exercise === undefined || exercise.sets.length === 0)
    throw new Error('withoutLastSet: no set was done.');
  const sets = exercise.sets.slice(0, -1);
  const others = day.exercises.slice(0, -1);
  return { ...day, exercises: sets.length === 0 ? others : [...others, { ...exercise, sets }] };
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

/** How many sets of a session record the day has. */
export function setsOfRecord(day: TrainingDay, recordId: string): number {
  return day.exercises
    .filter((done) => done.recordId === recordId)
    .reduce((count, { sets }) => count + sets.length, 0);
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
}

/** The exercises of the stage in order, each as it stands. */
export function courseOf(plan: Plan, day: TrainingDay | null): readonly ExerciseCourse[] {
  return currentStage(plan).exercises.map((planned) => {
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
    };
  });
}

/** The exercise that comes next: the first that is open and may start; null when there is none. */
export function nextOf(course: readonly ExerciseCourse[]): ExerciseCourse | null {
  return course.find(({ state, clearance }) => state === 'open' && clearance.mayStart) ?? null;
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

/** The day as it is closed: done when every set that may be done was, pain where an exercise was ended for it. */
export function endDay(day: TrainingDay, plan: Plan, endedAt: string): TrainingDay {
  const course = courseOf(plan, day);
  const isAllDone = course.every(({ state, clearance }) => state === 'done' || !clearance.mayStart);
  const isForPain = course.some(({ state }) => state === 'ended');
  return { ...day, endedAt, endedBecause: isForPain ? 'pain' : isAllDone ? 'done' : 'stopped' };
}

/** The day on which the person is now: begun today, of this plan, not closed by a newer version; null before it. */
export function dayOfToday(days: readonly TrainingDay[], moment: string): TrainingDay | null {
  return days.findLast(({ startedAt }) => dayOf(startedAt) === dayOf(moment)) ?? null;
}

/** Days of earlier dates that nobody ended: the tab was closed. Their answers stay. */
export function brokenOff(days: readonly TrainingDay[], moment: string): readonly TrainingDay[] {
  return days
    .filter(({ startedAt, endedBecause }) => endedBecause === null && dayOf(startedAt) < dayOf(moment))
    .map((day) => ({ ...day, endedBecause: 'broken-off' }));
}

/** The day whose next morning is still to be asked about: the latest before today with a set; null when there is none. */
export function waitingMorning(days: readonly TrainingDay[], moment: string): TrainingDay | null {
  const latest = days.findLast(
    ({ startedAt, exercises }) => dayOf(startedAt) < dayOf(moment) && exercises.length > 0,
  );
  return latest?.nextMorning === null ? latest : null;
}

/** The day whose next morning was answered today; null when there is none. */
export function answeredThisMorning(days: readonly TrainingDay[], moment: string): TrainingDay | null {
  return (
    days.findLast(
      ({ nextMorning }) => nextMorning !== null && dayOf(nextMorning.answeredAt) === dayOf(moment),
    ) ?? null
  );
}

/** True on the very morning after; later the answer is from memory. */
export function isMorningAfter({ startedAt }: TrainingDay, moment: string): boolean {
  return dayOf(moment) - dayOf(startedAt) === 1;
}
