import { changePlan, type PlanChange } from './change-plan.ts';
import type { Decision, Proposal } from './decision.ts';
import { currentStage, type Plan } from './plan.ts';
import type { PlanProblem } from './read-plan.ts';

/** A decision with the version of the plan that follows from it; plan is the same as before where nothing changed. */
export interface Decided {
  readonly decision: Decision;
  readonly plan: Plan;
}

/** What a therapist decides. */
export interface DecisionMade {
  /** A new UUID. */
  readonly id: string;
  readonly direction: Decision['direction'];
  /** In the therapist's own words. */
  readonly reason: string;
  /** When, with offset. */
  readonly moment: string;
  /** What else is changed with it, as the dose of the stage that is stayed in. */
  readonly change?: PlanChange;
}

/**
 * Records what the therapist decided beside what was proposed, whether or not they agree. Going on and stepping back lead
 * to a new version in the neighbouring stage, or in change.stageKey where one is given; staying leads to a new version only
 * where something else is changed. Refused as a plan is, and with "no-stage" where there is none to go to.
 */
export function decide(
  plan: Plan,
  proposal: Proposal | null,
  { id, direction, reason, moment, change = {} }: DecisionMade,
):
  | { readonly ok: true; readonly decided: Decided }
  | { readonly ok: false; readonly problem: PlanProblem | { readonly kind: 'no-stage' } } {
  const stageKey = change.stageKey ?? neighbourOf(plan, direction);
  if (stageKey === null) return { ok: false, problem: { kind: 'no-stage' } };
  const isChanged = stageKey !== plan.stageKey || Object.keys(change).length > 0;
  const changed = isChanged ? changePlan(plan, { ...change, stageKey }, moment, reason) : null;
  if (changed?.ok === false) return changed;
  const next = changed?.plan ?? plan;
  const decision: Decision = {
    id,
    planId: plan.id,
    planVersion: plan.version,
    newPlanVersion: changed === null ? null : next.version,
    decidedAt: moment,
    proposal,
    direction,
    reason,
  };
  return { ok: true, decided: { decision, plan: next } };
}

function neighbourOf(plan: Plan, direction: Decision['direction']): string | null {
  const step = { advance: 1, stay: 0, 'step-back': -1 }[direction];
  return plan.stages[plan.stages.indexOf(currentStage(plan)) + step]?.key ?? null;
}
