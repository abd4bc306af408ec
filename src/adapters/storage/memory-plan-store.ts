import type { Decision } from '../../core/plan/decision.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { mergedDay, type DayMerging } from '../../core/plan/merge-days.ts';
import type { KeptList, PlanListing, PlanStore, TakenOut } from '../../core/plan/plan-store.ts';
import { isSameValue } from '../../core/plan/same-value.ts';
import type { TrainingDay } from '../../core/plan/training-day.ts';
import type { StorageProblem, Stored } from '../../core/stored.ts';
import {
  daysAmong,
  decisionsAmong,
  listingsAmong,
  newestAmong,
  readKeptDay,
  readKeptPlan,
  versionsAmong,
} from './kept-plans.ts';

type Rows = Omit<TakenOut, 'followedPlanId'>;

/** Plans, training days and decisions for this visit only, where the browser lets the page keep nothing. */
export class MemoryPlanStore implements PlanStore {
  readonly lasts = 'this-visit';
  #rows: Rows = { plans: [], days: [], decisions: [] };
  #followedPlanId: string | null = null;
  #draft: Plan | null = null;

  keepVersion(plan: Plan): Promise<Stored<null>> {
    const { id: planId, version } = plan;
    const kept = this.#versions(planId).find((row) => row.version === version);
    if (kept === undefined)
      this.#rows = { ...this.#rows, plans: [...this.#rows.plans, { planId, version, plan }] };
    else if (!isSameValue(kept.plan, plan)) return failed('already-kept', planId);
    return done(null);
  }

  listPlans(): Promise<Stored<PlanListing[]>> {
    return done(listingsAmong(this.#rows, this.#followedPlanId));
  }

  versionsOf(planId: string): Promise<Stored<KeptList<Plan>>> {
    const rows = this.#versions(planId);
    return rows.length === 0 ? failed('missing', planId) : done(versionsAmong(rows));
  }

  loadVersion(planId: string, version: number): Promise<Stored<Plan>> {
    const row = this.#versions(planId).find((kept) => kept.version === version);
    return row === undefined ? failed('missing', planId) : readable(readKeptPlan(row.plan), planId);
  }

  followed(): Promise<Stored<Plan | null>> {
    const planId = this.#followedPlanId;
    return planId === null ? done(null) : readable(newestAmong(this.#versions(planId)), planId);
  }

  follow(planId: string | null): Promise<Stored<null>> {
    if (planId !== null && this.#versions(planId).length === 0) return failed('missing', planId);
    this.#followedPlanId = planId;
    return done(null);
  }

  keepDraft(draft: Plan | null): Promise<Stored<null>> {
    this.#draft = draft;
    return done(null);
  }

  draft(): Promise<Stored<Plan | null>> {
    return done(this.#draft);
  }

  putDay(day: TrainingDay): Promise<Stored<null>> {
    const others = this.#rows.days.filter(({ id }) => id !== day.id);
    this.#rows = { ...this.#rows, days: [...others, { id: day.id, planId: day.planId, day }] };
    return done(null);
  }

  async mergeDay(day: TrainingDay): Promise<Stored<DayMerging>> {
    const row = this.#rows.days.find(({ id }) => id === day.id);
    const { put, then } = mergedDay(row === undefined ? null : readKeptDay(row.day), day);
    if (put !== null) void this.putDay(put);
    return { ok: true, value: then };
  }

  loadDay(dayId: string): Promise<Stored<TrainingDay>> {
    const row = this.#rows.days.find(({ id }) => id === dayId);
    return row === undefined ? failed('missing', dayId) : readable(readKeptDay(row.day), dayId);
  }

  listDays(planId: string): Promise<Stored<KeptList<TrainingDay>>> {
    return done(daysAmong(this.#rows.days.filter((row) => row.planId === planId)));
  }

  putDecision(decision: Decision): Promise<Stored<null>> {
    const { id, planId } = decision;
    const others = this.#rows.decisions.filter((row) => row.id !== id);
    this.#rows = { ...this.#rows, decisions: [...others, { id, planId, decision }] };
    return done(null);
  }

  listDecisions(planId: string): Promise<Stored<KeptList<Decision>>> {
    return done(decisionsAmong(this.#rows.decisions.filter((row) => row.planId === planId)));
  }

  takeOutPlan(planId: string): Promise<Stored<TakenOut>> {
    const isFollowed = this.#followedPlanId === planId;
    if (isFollowed) this.#followedPlanId = null;
    return done({
      ...this.#take((row) => row.planId === planId),
      followedPlanId: isFollowed ? planId : null,
    });
  }

  takeOutDay(dayId: string): Promise<Stored<TakenOut>> {
    return done({ ...this.#take((row) => 'day' in row && row.id === dayId), followedPlanId: null });
  }

  putBack({ plans, days, decisions, followedPlanId }: TakenOut): Promise<Stored<null>> {
    this.#rows = {
      plans: [...this.#rows.plans, ...plans],
      days: [...this.#rows.days, ...days],
      decisions: [...this.#rows.decisions, ...decisions],
    };
    this.#followedPlanId = followedPlanId ?? this.#followedPlanId;
    return done(null);
  }

  #versions(planId: string): Rows['plans'] {
    return this.#rows.plans.filter((row) => row.planId === planId);
  }

  /** Takes the rows out that are meant, and gives them. */
  #take(isMeant: (row: Rows['plans' | 'days' | 'decisions'][number]) => boolean): Rows {
    const { plans, days, decisions } = this.#rows;
    const rest = (row: Parameters<typeof isMeant>[0]): boolean => !isMeant(row);
    this.#rows = { plans: plans.filter(rest), days: days.filter(rest), decisions: decisions.filter(rest) };
    return { plans: plans.filter(isMeant), days: days.filter(isMeant), decisions: decisions.filter(isMeant) };
  }
}

function done<Value>(value: Value): Promise<Stored<Value>> {
  return Promise.resolve({ ok: true, value });
}

function failed(problem: StorageProblem, id: string): Promise<Stored<never>> {
  return Promise.resolve({ ok: false, problem, detail: `In this visit: ${id}.` });
}

function readable<Value>(value: Value | null, id: string): Promise<Stored<Value>> {
  return value === null ? failed('unreadable', id) : done(value);
}
