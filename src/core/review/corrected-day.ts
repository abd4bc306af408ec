import { isSameValue } from '../plan/same-value.ts';
import type { DoneExercise, MeasuredDone, TrainingDay } from '../plan/training-day.ts';
import { measuredDoneOf } from '../session/day-figures.ts';
import type { RecordOutline } from '../session/record-opener.ts';
import type { CorrectedSession } from './corrected-session.ts';

/** A training day whose figures follow the corrections of one of its sessions. */
export interface CorrectedDay {
  readonly day: TrainingDay;
  /** Sets of the session that corrections changed. */
  readonly changedSets: number;
  /** Those of them that the day does not have with the figures of the record, so that they could not follow. */
  readonly unmatchedSets: number;
}

/**
 * The day with the figures of those sets that corrections changed; the kept day stays as it is. Sets are told apart by
 * what was measured of them, as elsewhere. The elbow's impulse of a corrected set is not known any more: it was worked out
 * over the times that were corrected.
 */
export function correctedDay(
  day: TrainingDay,
  { id, settings, sets }: RecordOutline,
  { findings }: CorrectedSession,
): CorrectedDay {
  const kind = settings.exercise === 'hold' ? 'hold' : 'repetitions';
  const changes = sets.flatMap((set, index) => {
    const now = findings[index];
    if (now === undefined || isSameValue(now.judgement, set.judgement)) return [];
    return [{ before: measuredDoneOf(set, kind), after: measuredDoneOf(now, kind) }];
  });
  return changes.reduce<CorrectedDay>(
    (done, { before, after }) => {
      const next = withFigures(done.day, id, before, after);
      return next === null ? { ...done, unmatchedSets: done.unmatchedSets + 1 } : { ...done, day: next };
    },
    { day, changedSets: changes.length, unmatchedSets: 0 },
  );
}

function withFigures(
  day: TrainingDay,
  recordId: string,
  before: MeasuredDone,
  after: MeasuredDone,
): TrainingDay | null {
  const isIt = (measured: MeasuredDone | null): boolean =>
    measured !== null && isSameValue({ ...measured, elbowImpulseNms: null }, before);
  const holdsIt = (done: DoneExercise): boolean =>
    done.recordId === recordId && done.sets.some(({ measured }) => isIt(measured));
  const place = day.exercises.findIndex(holdsIt);
  const exercise = day.exercises[place];
  if (exercise === undefined) return null;
  const setPlace = exercise.sets.findIndex(({ measured }) => isIt(measured));
  const set = exercise.sets[setPlace];
  if (set === undefined) return null;
  const sets = exercise.sets.with(setPlace, { ...set, measured: after });
  return { ...day, exercises: day.exercises.with(place, { ...exercise, sets }) };
}
