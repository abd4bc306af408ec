import type { Plan } from '../core/plan/plan.ts';
import type { PlanListing, PlanStore } from '../core/plan/plan-store.ts';
import type { StorageProblem } from '../core/stored.ts';

/** The plans that are kept on this machine, and the one that sessions here follow. */
export class PlanBoard {
  readonly #store: PlanStore;
  #listings = $state.raw<readonly PlanListing[] | null>(null);
  #followed = $state.raw<Plan | null>(null);
  #problem = $state.raw<StorageProblem | null>(null);

  constructor(store: PlanStore) {
    this.#store = store;
  }

  /** All kept plans, the last written first; null until they were looked up. */
  get listings(): readonly PlanListing[] | null {
    return this.#listings;
  }

  /** The newest version of the plan that sessions here follow; null where none is followed or before look(). */
  get followed(): Plan | null {
    return this.#followed;
  }

  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** Looks up the plans and the one that is followed. */
  async look(): Promise<void> {
    const [listed, followed] = await Promise.all([this.#store.listPlans(), this.#store.followed()]);
    if (listed.ok) this.#listings = listed.value;
    else this.#problem = listed.problem;
    this.#followed = followed.ok ? followed.value : null;
  }
}
