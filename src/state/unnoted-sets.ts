import { OPEN_SET, setsOfRecord, withSet } from '../core/plan/day-course.ts';
import { currentStage, type Plan } from '../core/plan/plan.ts';
import type { DoneSet, TrainingDay } from '../core/plan/training-day.ts';
import { measuredDoneOf } from '../core/session/day-figures.ts';
import type { RecordedSet, SessionRecord } from '../core/session/session-record.ts';
import type { SessionStore } from '../core/session/session-store.ts';

/**
 * The day with the sets that are in its session records and not in the day: the tab was closed, or crashed, before they
 * were noted. Sessions that broke off are finished with it.
 */
export async function withUnnotedSets(
  day: TrainingDay,
  plan: Plan,
  sessions: SessionStore,
): Promise<TrainingDay> {
  const listed = await sessions.listSessions();
  if (!listed.ok) return day;
  let whole = day;
  const ofDay = listed.value.filter(
    ({ header, state }) => header.plan?.dayId === day.id && state !== 'recording',
  );
  // The list has the newest first.
  for (const { header, state } of ofDay.reverse()) {
    const noted = setsOfRecord(day, header.id);
    if (state === 'finished' && noted > 0) continue;
    if (state === 'unfinished') await sessions.finishSession(header.id);
    const loaded = await sessions.loadSession(header.id);
    if (loaded.ok) whole = withSetsFrom(loaded.value, noted, whole, plan);
  }
  return whole;
}

function withSetsFrom(record: SessionRecord, noted: number, day: TrainingDay, plan: Plan): TrainingDay {
  const planned = currentStage(plan).exercises.find(({ key }) => key === record.plan?.exerciseKey);
  if (planned === undefined) return day;
  const { key: exerciseKey, exercise, dose } = planned;
  return record.sets
    .slice(noted)
    .reduce(
      (before, set) =>
        withSet(before, { exerciseKey, exercise, recordId: record.id }, doneSetOf(set, dose.kind)),
      day,
    );
}

function doneSetOf(set: RecordedSet, kind: 'hold' | 'repetitions'): DoneSet {
  const { painAfter, effort, hardest } = set.answers;
  return { ...OPEN_SET, measured: measuredDoneOf(set, kind), painAfter, effort, hardest };
}
