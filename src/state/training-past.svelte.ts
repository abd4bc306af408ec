import { answeredThisMorning, brokenOff, waitingMorning } from '../core/plan/day-turns.ts';
import type { SafetyPast } from '../core/plan/may-start.ts';
import type { Plan } from '../core/plan/plan.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';
import type { PainPlace, TrainingDay } from '../core/plan/training-day.ts';
import type { SessionStore } from '../core/session/session-store.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';
import { withUnnotedSets } from './unnoted-sets.ts';

/** What earlier days mean for today: a morning to be asked about, and what the rules of safety and of the week stand on. */
export class TrainingPast {
  readonly #plans: PlanStore;
  readonly #sessions: SessionStore;
  #morning = $state.raw<TrainingDay | null>(null);
  #answered = $state.raw<TrainingDay | null>(null);
  #before = $state.raw<SafetyPast>({ days: [], versions: [], decisions: [] });

  constructor(plans: PlanStore, sessions: SessionStore) {
    this.#plans = plans;
    this.#sessions = sessions;
  }

  /** An earlier day whose next morning is still to be asked about; null when there is none. */
  get morning(): TrainingDay | null {
    return this.#morning;
  }

  /** The earlier day whose next morning was answered today; null when there is none. */
  get answered(): TrainingDay | null {
    return this.#answered;
  }

  /** The days, versions and decisions of the plan as they were last looked up; the oldest day first. */
  get before(): SafetyPast {
    return this.#before;
  }

  /** Looks up what has gone before by a plan, and closes the days that broke off. */
  async look(plan: Plan, moment: string): Promise<Stored<SafetyPast>> {
    const [days, versions, decisions] = await Promise.all([
      this.#plans.listDays(plan.id),
      this.#plans.versionsOf(plan.id),
      this.#plans.listDecisions(plan.id),
    ]);
    if (!days.ok) return days;
    let { items } = days.value;
    for (const broken of brokenOff(items, moment)) {
      const day = await withUnnotedSets(broken, this.#sessions);
      items = items.map((other) => (other.id === day.id ? day : other));
      await this.#plans.putDay(day);
    }
    this.#morning = waitingMorning(items, moment);
    this.#answered = answeredThisMorning(items, moment);
    this.#before = {
      days: items,
      versions: versions.ok ? versions.value.items : [plan],
      decisions: decisions.ok ? decisions.value.items : [],
    };
    return { ok: true, value: this.#before };
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
