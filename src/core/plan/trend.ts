import { dayOf, mondayOf, type DayNumber } from './calendar.ts';
import { detectableChange, ownStandardError } from './own-change.ts';
import { PAIN_CHANGE, painChange } from './pain-change.ts';
import { daysInOrder } from './plan-versions.ts';
import type { TrainingDay } from './training-day.ts';
import { TREND_ROWS, type TrendRow } from './trend-measures.ts';

/** One week of a measure. */
interface TrendWeek {
  readonly monday: DayNumber;
  /** Mean over the week's training days that have the figure; null when none has. */
  readonly mean: number | null;
  readonly dayCount: number;
}

/** What a change must reach to be more than chance, and how that is known. */
export interface ChangeLimit {
  readonly value: number;
  readonly from: 'own-sessions' | 'table' | 'pain-scale';
  /** Of the person's own sessions that it rests on; 0 otherwise. */
  readonly sessionCount: number;
}

/** What has become of a measure between the first and the last week that have it. */
type TrendVerdict = 'more' | 'less' | 'no-change' | 'too-early' | 'limit-unknown';

/** A measure over the weeks. */
export interface Trend extends Pick<TrendRow, 'measure' | 'exercise' | 'unit'> {
  /** Weeks without a gap from the first with a training day to the last, oldest first. */
  readonly weeks: readonly TrendWeek[];
  readonly first: number | null;
  readonly last: number | null;
  /** Last minus first; null with fewer than two weeks that have the figure. */
  readonly change: number | null;
  readonly limit: ChangeLimit | null;
  readonly verdict: TrendVerdict;
}

const DAYS_IN_WEEK = 7;

/**
 * Every measure that the days have, over the weeks. A change is what lies between the means of the first and the last week
 * with the figure, against the change of one session that is more than chance: by the person's own sessions where there are
 * enough of them, else by the table of rendered people. A change below it is no change.
 */
export function trendOf(days: readonly TrainingDay[]): Trend[] {
  const ordered = daysInOrder(days);
  return TREND_ROWS.map((row) => trendOfRow(row, ordered)).filter(({ first }) => first !== null);
}

function trendOfRow(row: TrendRow, days: readonly TrainingDay[]): Trend {
  const { measure, exercise, unit } = row;
  const weeks = weeksOf(row, days);
  const means = weeks.flatMap(({ mean }) => mean ?? []);
  const first = means[0] ?? null;
  const last = means.at(-1) ?? null;
  const change = means.length < 2 || first === null || last === null ? null : last - first;
  const limit = changeLimitOf(row, days);
  return {
    measure,
    exercise,
    unit,
    weeks,
    first,
    last,
    change,
    limit,
    verdict: verdictOf(first, change, limit),
  };
}

function weeksOf({ ofDay }: TrendRow, days: readonly TrainingDay[]): TrendWeek[] {
  const mondays = days.map(({ startedAt }) => mondayOf(dayOf(startedAt)));
  const [firstMonday] = mondays;
  const lastMonday = mondays.at(-1);
  if (firstMonday === undefined || lastMonday === undefined) return [];
  const weeks: TrendWeek[] = [];
  for (let monday = firstMonday; monday <= lastMonday; monday += DAYS_IN_WEEK) {
    const values = days.filter((_, index) => mondays[index] === monday).flatMap((day) => ofDay(day) ?? []);
    const mean = values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
    weeks.push({ monday, mean, dayCount: values.length });
  }
  return weeks;
}

/**
 * The change of one session that is more than chance: by the person's own sessions where there are enough of them, else by the
 * table of rendered people; null where neither is known.
 */
export function changeLimitOf(row: TrendRow, days: readonly TrainingDay[]): ChangeLimit | null {
  if (row.unit === '0 to 10') return { value: PAIN_CHANGE.points, from: 'pain-scale', sessionCount: 0 };
  const values = days.flatMap((day) => row.ofDay(day) ?? []);
  // What a plan asks for changes the dose from one day to the next: its scatter is no error of measuring.
  const isAsked = row.measure === 'tension' || row.measure === 'impulse';
  const standardError = isAsked ? null : ownStandardError(values);
  const own = standardError === null ? 0 : Math.max(detectableChange(standardError), row.leastChange ?? 0);
  // Sessions that are all alike to the last digit tell nothing of their scatter.
  if (own > 0) return { value: own, from: 'own-sessions', sessionCount: values.length };
  return row.tableChange === null ? null : { value: row.tableChange, from: 'table', sessionCount: 0 };
}

function verdictOf(first: number | null, change: number | null, limit: ChangeLimit | null): TrendVerdict {
  if (first === null || change === null) return 'too-early';
  if (limit === null) return 'limit-unknown';
  if (limit.from === 'pain-scale') return painChange(first, first + change);
  if (Math.abs(change) < limit.value) return 'no-change';
  return change > 0 ? 'more' : 'less';
}
