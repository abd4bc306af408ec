import { askedAgainstDone } from './asked-done.ts';
import { dayOf, mondayOf, type DayNumber } from './calendar.ts';
import { currentStage, type Plan } from './plan.ts';
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

/**
 * Whether the plan asks for an exercise today. week-done: done on as many days of this week as it asks for. done-today: begun
 * earlier on this date, before a newer version of the plan began the day anew. It may be done all the same.
 */
export type ExerciseDue =
  | { readonly isAsked: true }
  | { readonly isAsked: false; readonly because: 'week-done'; readonly doneOn: readonly DayNumber[] }
  | { readonly isAsked: false; readonly because: 'done-today' };

/**
 * Which exercises of the current stage are asked today, in order. What was begun in today's own training day is still asked.
 * @param days - all training days of the plan, today's own among them or not
 */
export function exercisesToday(
  plan: Plan,
  days: readonly TrainingDay[],
  { id, startedAt }: Pick<TrainingDay, 'id' | 'startedAt'>,
): ExerciseDue[] {
  const today = dayOf(startedAt);
  return currentStage(plan).exercises.map(({ key, dose }) => {
    const begunOn = days
      .filter((day) => day.id !== id && isBegunOn(day, key))
      .map((day) => dayOf(day.startedAt))
      .filter((day) => day >= mondayOf(today) && day <= today);
    if (begunOn.includes(today)) return { isAsked: false, because: 'done-today' };
    const doneOn = [...new Set(begunOn)].sort((a, b) => a - b);
    return doneOn.length < dose.daysAWeek
      ? { isAsked: true }
      : { isAsked: false, because: 'week-done', doneOn };
  });
}

function isBegunOn({ exercises }: TrainingDay, key: string): boolean {
  return exercises.some(({ exerciseKey, sets }) => exerciseKey === key && sets.length > 0);
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
  if ([...trainingDays, ...joined(trainingDays)].some((trainingDay) => isDone(ordered, trainingDay)))
    return 'done';
  const isBegun = trainingDays.some(({ exercises }) => exercises.some(({ sets }) => sets.length > 0));
  return isBegun ? 'partly' : 'not-started';
}

/** A date on which a newer version of the plan began the day anew, as one day: all that was done, by the newer version. */
function joined(trainingDays: readonly TrainingDay[]): TrainingDay[] {
  const last = trainingDays.at(-1);
  if (last === undefined || trainingDays.length < 2) return [];
  return [{ ...last, notAsked: [], exercises: trainingDays.flatMap(({ exercises }) => exercises) }];
}

function isDone(versions: readonly Plan[], day: TrainingDay): boolean {
  const plan = followedVersion(versions, day);
  if (plan === null) return false;
  const { share } = askedAgainstDone(plan, day);
  return share !== null && share >= plan.progressRules.doseShareToCount;
}
