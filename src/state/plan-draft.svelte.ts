import type { PlanChange } from '../core/plan/change-plan.ts';
import type { Plan } from '../core/plan/plan.ts';

/** How many changes can be taken back one by one. */
const MOST_STEPS = 100;

/** A plan that is being written: nothing of it counts before it is saved as a version. */
export class PlanDraft {
  /** The version that it changes; null for a new plan. */
  readonly before: Plan | null;
  readonly #onchange: (plan: Plan) => void;
  #plan: Plan;
  #steps = $state.raw<readonly Plan[]>([]);
  #isSideSaid = $state(false);

  /**
   * @param plan - what stands there at first
   * @param before - the version that it changes; null for a new plan
   * @param onchange - told of every change, so that it can be kept
   */
  constructor(plan: Plan, before: Plan | null, onchange: (plan: Plan) => void) {
    this.#plan = $state.raw(plan);
    this.before = before;
    this.#isSideSaid = before !== null;
    this.#onchange = onchange;
  }

  /** The plan as it stands in the form; version, date and reason are still those of the version before. */
  get plan(): Plan {
    return this.#plan;
  }

  get canUndo(): boolean {
    return this.#steps.length > 0;
  }

  /** False until the treated arm of a new plan was said: the wrong arm must not be loaded because nobody chose. */
  get isSideSaid(): boolean {
    return this.#isSideSaid;
  }

  /** Says which arm is treated. */
  saySide(treatedSide: Plan['person']['treatedSide']): void {
    this.#isSideSaid = true;
    this.change({ person: { ...this.#plan.person, treatedSide } });
  }

  /** Changes a part of the plan. */
  change(change: PlanChange): void {
    this.#steps = [...this.#steps, this.#plan].slice(-MOST_STEPS);
    this.#set({ ...this.#plan, ...change });
  }

  /** Takes the last change back. */
  undo(): void {
    const last = this.#steps.at(-1);
    if (last === undefined) return;
    this.#steps = this.#steps.slice(0, -1);
    this.#set(last);
  }

  #set(plan: Plan): void {
    this.#plan = plan;
    this.#onchange(plan);
  }
}
