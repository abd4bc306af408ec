import type { Plan } from '../core/plan/plan.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';
import { isSameValue } from '../core/plan/same-value.ts';

/** A plan that came as a file or link, and how it stands to what is kept here. */
export interface ReceivedPlan {
  readonly plan: Plan;
  /** Null for a link. */
  readonly fileName: string | null;
  /**
   * new: nothing of this plan is kept. new-version, old-version: this version is not, and it is later or earlier than the
   * newest kept one. kept-already: just this is kept. other-content: something else is kept under the same number.
   */
  readonly standing: 'new' | 'new-version' | 'old-version' | 'kept-already' | 'other-content';
  /** The newest kept version of the same plan. */
  readonly newest: Plan | null;
}

/** Looks up how a plan stands to what is kept. Where nothing can be looked up it counts as new; keeping never overwrites. */
export async function receivedPlan(
  plan: Plan,
  fileName: string | null,
  store: PlanStore,
): Promise<ReceivedPlan> {
  const stored = await store.versionsOf(plan.id);
  const versions = stored.ok ? stored.value.items : [];
  const newest = versions.at(-1) ?? null;
  return { plan, fileName, standing: standingOf(plan, versions, newest), newest };
}

function standingOf(plan: Plan, versions: readonly Plan[], newest: Plan | null): ReceivedPlan['standing'] {
  if (newest === null) return 'new';
  const kept = versions.find(({ version }) => version === plan.version);
  if (kept !== undefined) return isSameValue(kept, plan) ? 'kept-already' : 'other-content';
  return plan.version > newest.version ? 'new-version' : 'old-version';
}
