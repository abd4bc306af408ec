import { dayOf, type DayNumber } from './calendar.ts';
import { nextMorningCeiling, painCeiling, worstPain } from './pain.ts';
import type { WeighedDay } from './weigh-day.ts';

/** Pain of one training day, each rating 0 to 10 or null where it was not given, under what its version of the plan allows. */
export interface PainDay {
  readonly day: DayNumber;
  readonly planVersion: number;
  readonly before: number | null;
  /** The most in the session. */
  readonly worst: number | null;
  /** The most that is allowed in the session; null where nothing can be said. */
  readonly ceiling: number | null;
  readonly morning: number | null;
  /** The same for the next morning, which has a rule of its own. */
  readonly morningCeiling: number | null;
}

/** Pain by training day, in the order given. */
export function painDays(weighed: readonly Pick<WeighedDay, 'day' | 'plan'>[]): PainDay[] {
  return weighed.map(({ day, plan }) => ({
    day: dayOf(day.startedAt),
    planVersion: plan.version,
    before: day.painBefore,
    worst: worstPain(day),
    ceiling: painCeiling(plan, day.painBefore),
    morning: day.nextMorning?.pain ?? null,
    morningCeiling: nextMorningCeiling(plan, day.painBefore),
  }));
}

/** Whether a rating passes its ceiling; false where either is not known. */
export function isAbove(rating: number | null, ceiling: number | null): boolean {
  return rating !== null && ceiling !== null && rating > ceiling;
}
