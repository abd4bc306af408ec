import type { SetJudgement } from '../exercises/judgement.ts';
import { setDose, workSpans } from '../loads/set-dose.ts';
import { plannedLoad } from '../plan/planned-load.ts';
import type { PlannedExercise, PlanPerson } from '../plan/plan.ts';
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
  person: PlanPerson,
): MeasuredDone['elbowImpulseNms'] {
  const load = plannedLoad(planned, person);
  if (load === null) return null;
  const series = { timesSeconds, flexionDeg: columns.elbowFlexionDeg.values };
  const { elbowImpulseNms } = setDose(series, workSpans(judgement), load);
  if (elbowImpulseNms === null) return null;
  const { value, least, most } = elbowImpulseNms;
  return { value, least, most };
}
