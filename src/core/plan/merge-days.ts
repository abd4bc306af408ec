import { instantSeconds } from './calendar.ts';
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

function lastAnswer({ startedAt, safetyAnsweredAt, endedAt, nextMorning }: TrainingDay): number {
  const moments = [startedAt, safetyAnsweredAt, endedAt, nextMorning?.answeredAt ?? null];
  return Math.max(...moments.flatMap((moment) => (moment === null ? [] : instantSeconds(moment))));
}

function setCount({ exercises }: TrainingDay): number {
  return exercises.reduce((count, { sets }) => count + sets.length, 0);
}
