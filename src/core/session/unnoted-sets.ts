import { OPEN_SET, setsOfRecord, withSet } from '../plan/day-course.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import { measuredDoneOf } from './day-figures.ts';
import type { SessionRecord } from './session-record.ts';

/**
 * The day with the sets of one of its session records that it does not know: the tab was closed, or crashed, before they were
 * noted. What was answered of them is taken from the record. Sets that the person said were none stay away.
 */
export function withSetsOfRecord(day: TrainingDay, record: SessionRecord): TrainingDay {
  if (record.plan?.dayId !== day.id) return day;
  const { exercise } = record.settings;
  const done = { exerciseKey: record.plan.exerciseKey, exercise, recordId: record.id };
  return record.sets.slice(setsOfRecord(day, record.id)).reduce((before, set) => {
    const { painAfter, effort, hardest } = set.answers;
    const measured = measuredDoneOf(set, exercise === 'hold' ? 'hold' : 'repetitions');
    return withSet(before, done, { ...OPEN_SET, measured, painAfter, effort, hardest });
  }, day);
}
