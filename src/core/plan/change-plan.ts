import type { PlanReading } from './read-plan.ts';
import { readPlanValue } from './read-plan.ts';
import type { Plan } from './plan.ts';

/** What may be changed of a plan; everything else is kept, and version, date and reason are the change's own. */
export type PlanChange = Partial<
  Pick<
    Plan,
    | 'person'
    | 'screening'
    | 'highEffort'
    | 'painRules'
    | 'progressRules'
    | 'stages'
    | 'stageKey'
    | 'therapistKey'
  >
>;

/**
 * The next version of a plan, checked as a plan from outside is. The plan that is given stays as it is: older versions are
 * kept.
 * @param moment - when it was changed, with offset
 * @param reason - why, in the therapist's own words
 */
export function changePlan(plan: Plan, change: PlanChange, moment: string, reason: string): PlanReading {
  return readPlanValue({ ...plan, ...change, version: plan.version + 1, writtenAt: moment, reason });
}
