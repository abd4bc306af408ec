import { answeredThisMorning, brokenOff, waitingMorning } from '../core/plan/day-course.ts';
import { earlierYes } from '../core/plan/may-start.ts';
import type { Plan } from '../core/plan/plan.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';
import type { PainPlace, TrainingDay } from '../core/plan/training-day.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';

/** What earlier days mean for today: a morning to be asked about, and a yes that waits for the therapist. */
export class TrainingPast {
  readonly #plans: PlanStore;
  #morning = $state.raw<TrainingDay | null>(null);
  #answered = $state.raw<TrainingDay | null>(null);
  #refusal = $state.raw<TrainingDay | null>(null);

  constructor(plans: PlanStore) {
    this.#plans = plans;
  }

  /** An earlier day whose next morning is still to be asked about; null when there is none. */
  get morning(): TrainingDay | null {
    return this.#morning;
  }

  /** The earlier day whose next morning was answered today; null when there is none. */
  get answered(): TrainingDay | null {
    return this.#answered;
  }

  /** The day on which a question before the session was answered with yes, until the therapist has decided. */
  get refusal(): TrainingDay | null {
    return this.#refusal;
  }

  /** Looks up the days of a plan, and closes those that broke off. Gives them, the oldest first. */
  async look(plan: Plan, moment: string): Promise<Stored<readonly TrainingDay[]>> {
    const [days, versions, decisions] = await Promise.all([
      this.#plans.listDays(plan.id),
      this.#plans.versionsOf(plan.id),
      this.#plans.listDecisions(plan.id),
    ]);
    if (!days.ok) return days;
    const { items } = days.value;
    for (const day of brokenOff(items, moment)) await this.#plans.putDay(day);
    this.#morning = waitingMorning(items, moment);
    this.#answered = answeredThisMorning(items, moment);
    this.#refusal = earlierYes({
      days: items,
      versions: versions.ok ? versions.value.items : [plan],
      decisions: decisions.ok ? decisions.value.items : [],
    });
    return { ok: true, value: items };
  }

  /** From now on no session starts before the therapist has decided about this day. */
  refuse(day: TrainingDay): void {
    this.#refusal = day;
  }

  /**
   * Keeps what was said of the morning after an earlier day; pain null: not remembered. Gives what keeps it from being
   * kept, or null.
   */
  async answerMorning(
    pain: number | null,
    painPlaces: readonly PainPlace[],
    answeredAt: string,
  ): Promise<StorageProblem | null> {
    if (this.#morning === null) return null;
    // Anew from the store: the day may have been closed since it was looked up.
    const kept = await this.#plans.loadDay(this.#morning.id);
    const day = kept.ok ? kept.value : this.#morning;
    const answered = { ...day, nextMorning: { answeredAt, pain, painPlaces: [...painPlaces] } };
    this.#morning = null;
    this.#answered = answered;
    const put = await this.#plans.putDay(answered);
    return put.ok ? null : put.problem;
  }
}
