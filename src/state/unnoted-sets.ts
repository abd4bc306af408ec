import { setsOfRecord } from '../core/plan/day-course.ts';
import type { TrainingDay } from '../core/plan/training-day.ts';
import type { SessionStore } from '../core/session/session-store.ts';
import { withSetsOfRecord } from '../core/session/unnoted-sets.ts';

/**
 * The day with the sets that are in its session records and not in the day: the tab was closed, or crashed, before they
 * were noted. Sessions that broke off are finished with it.
 */
export async function withUnnotedSets(day: TrainingDay, sessions: SessionStore): Promise<TrainingDay> {
  const listed = await sessions.sessionsOfDay(day.id);
  if (!listed.ok) return day;
  let whole = day;
  const over = listed.value.filter(({ state }) => state !== 'recording');
  // The list has the newest first.
  for (const { id, state } of over.reverse()) {
    if (state === 'finished' && setsOfRecord(day, id) > 0) continue;
    if (state === 'unfinished') await sessions.finishSession(id);
    const loaded = await sessions.loadSession(id);
    if (loaded.ok) whole = withSetsOfRecord(whole, loaded.value);
  }
  return whole;
}
