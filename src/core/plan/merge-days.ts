import { instantSeconds } from './calendar.ts';
import { isSameValue } from './same-value.ts';
import type { TrainingDay } from './training-day.ts';

/**
 * Which of two states of the same training day tells more: the one in which something was answered last, and of equal ones
 * the one with more sets. So a day that comes from another machine never takes away what was answered here.
 */
export function laterState(kept: TrainingDay, came: TrainingDay): TrainingDay {
  const [keptAt, cameAt] = [lastAnswer(kept), lastAnswer(came)];
  if (keptAt !== cameAt) return cameAt > keptAt ? came : kept;
  return setCount(came) > setCount(kept) ? came : kept;
}

/** What became of a day that came: it was not here, it takes the place of an earlier state, or what is here tells more. */
export type DayMerging = 'added' | 'renewed' | 'kept-as-is';

/**
 * What is to be written when a day comes from elsewhere.
 * @param kept - the day as it is kept; null where it is not, or cannot be read
 * @param came - the day that came
 * @returns put: what is to be written, null where nothing is
 */
export function mergedDay(
  kept: TrainingDay | null,
  came: TrainingDay,
): { readonly put: TrainingDay | null; readonly then: DayMerging } {
  if (kept === null) return { put: came, then: 'added' };
  const isLater = laterState(kept, came) === came && !isSameValue(kept, came);
  return isLater ? { put: came, then: 'renewed' } : { put: null, then: 'kept-as-is' };
}

function lastAnswer({ startedAt, safetyAnsweredAt, endedAt, nextMorning }: TrainingDay): number {
  const moments = [startedAt, safetyAnsweredAt, endedAt, nextMorning?.answeredAt ?? null];
  return Math.max(...moments.flatMap((moment) => (moment === null ? [] : instantSeconds(moment))));
}

function setCount({ exercises }: TrainingDay): number {
  return exercises.reduce((count, { sets }) => count + sets.length, 0);
}
