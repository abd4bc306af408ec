import type { Proposal } from '../plan/decision.ts';
import type { Plan } from '../plan/plan.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import { weighPlan, type PlanPast } from '../plan/weigh-plan.ts';
import { groundReason } from './proposal-words.ts';

/**
 * What the plan's own rules propose after the days so far, each reason a sentence with its days, numbers, threshold and
 * source. The therapist decides. Reasons for the therapist only say so.
 * @param days - training days of the plan, in any order
 * @param moment - now, with offset
 * @param past - older versions and decisions
 */
export function propose(
  plan: Plan,
  days: readonly TrainingDay[],
  moment: string,
  past: PlanPast = {},
): Proposal {
  const { direction, toStage, grounds } = weighPlan(plan, days, moment, past);
  return { direction, toStageKey: toStage.key, reasons: grounds.slice(0, 20).map(groundReason) };
}
