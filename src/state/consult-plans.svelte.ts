import type { PlanListing, PlanStore } from '../core/plan/plan-store.ts';
import type { Plan, Stage } from '../core/plan/plan.ts';

/** The plans that are kept on the therapist's machine, and the one that a consult goes by. */
export class ConsultPlans {
  readonly #store: PlanStore;
  #plans = $state.raw<readonly Plan[]>([]);
  #openId = $state<string | null>(null);
  #isUnread = $state(false);

  constructor(store: PlanStore) {
    this.#store = store;
  }

  /** Plans that can be read, the last written first. */
  get plans(): readonly Plan[] {
    return this.#plans;
  }

  /** True where the list could not be read. */
  get isUnread(): boolean {
    return this.#isUnread;
  }

  /** The plan that is gone by; null where none was chosen. */
  get open(): Plan | null {
    return this.#plans.find(({ id }) => id === this.#openId) ?? null;
  }

  /** The stage that the plan follows now; null without a plan. */
  get stage(): Stage | null {
    const { open } = this;
    return open?.stages.find(({ key }) => key === open.stageKey) ?? null;
  }

  async load(): Promise<void> {
    const listed = await this.#store.listPlans();
    this.#isUnread = !listed.ok;
    const newest = ({ newest: plan }: PlanListing): readonly Plan[] => (plan === null ? [] : [plan]);
    this.#plans = listed.ok ? listed.value.flatMap(newest) : [];
  }

  choose(planId: string | null): void {
    this.#openId = planId;
  }
}
