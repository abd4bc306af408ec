import type { ExchangeStore } from '../core/exchange/exchange-store.ts';
import type { WaitingPlan } from '../core/exchange/waiting-plans.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';

/** Where a newer version of a plan is looked for. */
export interface WaitingParts {
  /** Loads with its first use. */
  readonly exchange: () => Promise<Pick<ExchangeStore, 'listBeside'>>;
  readonly plans: Pick<PlanStore, 'versionsOf'>;
}

/**
 * The newer version of a plan that came and waits to be put in force; null where none does, and where that cannot be looked
 * up. Nearly always nothing stands beside, and nothing more is loaded.
 */
export async function waitingVersion(
  planId: string,
  { exchange, plans }: WaitingParts,
): Promise<WaitingPlan | null> {
  const listed = await (await exchange()).listBeside();
  const ofPlan = listed.ok
    ? listed.value.filter(({ entry, ownerId }) => entry.kind === 'plan' && ownerId === planId)
    : [];
  if (ofPlan.length === 0) return null;
  const { besideApart } = await import('../core/exchange/waiting-plans.ts');
  const [waiting = null] = (await besideApart(ofPlan, plans)).waiting;
  return waiting;
}
