import { askedAgainstDone } from './asked-done.ts';
import { dayOf, mondayOf, type DayNumber } from './calendar.ts';
import { currentStage, type Plan, type PlannedExercise } from './plan.ts';
import { daysInOrder, followedVersion, inOrder } from './plan-versions.ts';
import type { TrainingDay } from './training-day.ts';

/** What a day of the week shows. Partly: begun, and too little of the dose to count as done. */
export type DayStatus = 'done' | 'partly' | 'not-started' | 'none' | 'ahead' | 'before-plan';

/** One day of a week. */
interface WeekDay {
  readonly day: DayNumber;
  readonly status: DayStatus;
  /** The training days on this date, in order. */
  readonly trainingDays: readonly TrainingDay[];
}

/** One week from Monday to Sunday. */
export interface Week {
  readonly monday: DayNumber;
  /** Training days that the plan asks for; in the plan's first week the share that was left of it, rounded down. */
  readonly askedDays: number;
  readonly doneDays: number;
  /** Asked and not done; null while the week goes on. */
  readonly missedDays: number | null;
  /** Monday first, seven of them. */
  readonly days: readonly WeekDay[];
}

const DAYS_IN_WEEK = 7;

/**
 * Every week from the plan's first to the one of the moment, oldest first: asked days, done days, missed days. What is
 * asked goes by the version in force at the end of the week.
 * @param versions - all known versions of the plan, at least one
 */
export function weekView(versions: readonly Plan[], days: readonly TrainingDay[], moment: string): Week[] {
  const ordered = inOrder(versions);
  const [first] = ordered;
  if (first === undefined) return [];
  const today = dayOf(moment);
  const start = Math.min(dayOf(first.writtenAt), ...days.map(({ startedAt }) => dayOf(startedAt)));
  const weeks: Week[] = [];
  for (let monday = mondayOf(start); monday <= today; monday += DAYS_IN_WEEK)
    weeks.push(weekOf(monday, { ordered, days: daysInOrder(days), start, today }));
  return weeks;
}

/** What an exercise of the current stage has left of its days this week. */
export interface ExerciseToday {
  readonly exercise: PlannedExercise;
  readonly daysDoneThisWeek: number;
  /** False when it has been done on all days that the plan asks for this week. It may still be done. */
  readonly isAskedToday: boolean;
}

/** The exercises of the current stage in order, and which of them are asked today. What was begun today is still asked. */
export function exercisesToday(plan: Plan, days: readonly TrainingDay[], moment: string): ExerciseToday[] {
  const today = dayOf(moment);
  const before = days.filter(({ startedAt }) => {
    const day = dayOf(startedAt);
    return day >= mondayOf(today) && day < today;
  });
  return currentStage(plan).exercises.map((exercise) => {
    const done = new Set(
      before
        .filter((day) =>
          day.exercises.some(({ exerciseKey, sets }) => exerciseKey === exercise.key && sets.length > 0),
        )
        .map(({ startedAt }) => dayOf(startedAt)),
    ).size;
    return { exercise, daysDoneThisWeek: done, isAskedToday: done < exercise.dose.daysAWeek };
  });
}

interface WeekContext {
  readonly ordered: readonly Plan[];
  readonly days: readonly TrainingDay[];
  readonly start: DayNumber;
  readonly today: DayNumber;
}

function weekOf(monday: DayNumber, { ordered, days, start, today }: WeekContext): Week {
  const sunday = monday + DAYS_IN_WEEK - 1;
  const inForce = ordered.findLast(({ writtenAt }) => dayOf(writtenAt) <= sunday) ?? ordered[0];
  const daysAWeek = inForce
    ? Math.max(...currentStage(inForce).exercises.map(({ dose }) => dose.daysAWeek))
    : 0;
  const daysLeft = sunday - Math.max(monday, start) + 1;
  const askedDays = Math.floor((daysAWeek * daysLeft) / DAYS_IN_WEEK);
  const weekDays = Array.from({ length: DAYS_IN_WEEK }, (_, index): WeekDay => {
    const day = monday + index;
    const trainingDays = days.filter(({ startedAt }) => dayOf(startedAt) === day);
    return { day, trainingDays, status: statusOf(day, trainingDays, { ordered, days, start, today }) };
  });
  const doneDays = weekDays.filter(({ status }) => status === 'done').length;
  return {
    monday,
    askedDays,
    doneDays,
    missedDays: sunday < today ? Math.max(0, askedDays - doneDays) : null,
    days: weekDays,
  };
}

function statusOf(
  day: DayNumber,
  trainingDays: readonly TrainingDay[],
  { ordered, start, today }: WeekContext,
): DayStatus {
  if (trainingDays.length === 0) {
    if (day > today) return 'ahead';
    return day < start ? 'before-plan' : 'none';
  }
  if (trainingDays.some((trainingDay) => isDone(ordered, trainingDay))) return 'done';
  const isBegun = trainingDays.some(({ exercises }) => exercises.some(({ sets }) => sets.length > 0));
  return isBegun ? 'partly' : 'not-started';
}

function isDone(versions: readonly Plan[], day: TrainingDay): boolean {
  const plan = followedVersion(versions, day);
  if (plan === null) return false;
  const { share } = askedAgainstDone(plan, day);
  return share !== null && share >= plan.progressRules.doseShareToCount;
}
