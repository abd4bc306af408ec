import { dayOf } from './calendar.ts';
import { isDealtWith, type SafetyPast } from './may-start.ts';
import type { Plan } from './plan.ts';
import type { SessionQuestion } from './safety-questions.ts';
import { DAY_FORMAT, DAY_SCHEMA_VERSION, type TrainingDay } from './training-day.ts';

/* How training days begin, go on, break off and are asked about the next morning. */

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

/**
 * The day with the questions before the session answered. Any yes ends it before it began; a yes of before stays, whatever is
 * answered afterwards.
 */
export function withSafetyAnswers(
  day: TrainingDay,
  yes: readonly SessionQuestion[],
  safetyAnsweredAt: string,
): TrainingDay {
  const safetyYes = [...new Set([...day.safetyYes, ...yes])];
  const answered = { ...day, safetyYes, safetyAnsweredAt };
  return safetyYes.length === 0
    ? answered
    : { ...answered, endedAt: safetyAnsweredAt, endedBecause: 'safety' };
}

/**
 * The day on which the person is now: the last that was begun today. Null before it, after a newer version of the plan closed
 * it, and once the therapist has dealt with a yes that ended it.
 */
export function dayOfToday(
  days: readonly TrainingDay[],
  moment: string,
  past: Pick<SafetyPast, 'versions' | 'decisions'>,
): TrainingDay | null {
  const day = days.findLast(({ startedAt }) => dayOf(startedAt) === dayOf(moment));
  if (day === undefined || day.endedBecause === 'newer-plan') return null;
  return day.endedBecause === 'safety' && isDealtWith(day, past) ? null : day;
}

/** How a day goes on: what of it is to be kept, and the day on which the person is now. */
export interface CarriedDay {
  /** Null when nothing changed. */
  readonly changed: TrainingDay | null;
  /** Null when a day begins anew. */
  readonly today: TrainingDay | null;
}

/**
 * The day of today by the version of the plan that is followed now: of a newer one a day begins anew where something was done
 * by the older, so that what was done stays beside what was asked then. A day that was ended stays as it is.
 */
export function carriedOn(day: TrainingDay, plan: Plan, moment: string): CarriedDay {
  if (day.endedBecause !== null || day.planVersion === plan.version) return { changed: null, today: day };
  if (day.exercises.length > 0)
    return { changed: { ...day, endedAt: moment, endedBecause: 'newer-plan' }, today: null };
  const newer = { ...day, planVersion: plan.version, stageKey: plan.stageKey };
  return { changed: newer, today: newer };
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
