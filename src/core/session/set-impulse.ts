import type { SetJudgement } from '../exercises/judgement.ts';
import { USUAL_HOLD, USUAL_RANGE } from '../loads/loaded-exercise.ts';
import { setDose, workSpans } from '../loads/set-dose.ts';
import { isMeasuredExercise, type Plan, type PlannedExercise } from '../plan/plan.ts';
import type { MeasuredDone } from '../plan/training-day.ts';
import type { MeasuredSet } from './measured-set.ts';

/**
 * Elbow moment times time of a measured set with the equipment of the plan, newton metre seconds: an estimate with its
 * range. Null where the plan describes no equipment, or no moment is known.
 */
export function setImpulseNms(
  { timesSeconds, columns }: Pick<MeasuredSet, 'timesSeconds' | 'columns'>,
  judgement: SetJudgement,
  planned: PlannedExercise,
  person: Plan['person'],
): MeasuredDone['elbowImpulseNms'] {
  if (!isMeasuredExercise(planned) || planned.equipment === null) return null;
  const { elbowImpulseNms } = setDose(
    { timesSeconds, flexionDeg: columns.elbowFlexionDeg.values },
    workSpans(judgement),
    {
      equipment: planned.equipment,
      person,
      variant: planned.exercise === 'band-curl' ? planned.variant : null,
      range: planned.exercise === 'hold' ? USUAL_HOLD : (planned.range ?? USUAL_RANGE),
    },
  );
  if (elbowImpulseNms === null) return null;
  const { value, least, most } = elbowImpulseNms;
  return { value, least, most };
}
