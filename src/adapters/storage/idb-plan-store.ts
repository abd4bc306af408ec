import type { Decision } from '../../core/plan/decision.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { DayMerging } from '../../core/plan/merge-days.ts';
import type { KeptList, PlanListing, PlanStore, TakenOut } from '../../core/plan/plan-store.ts';
import { isSameValue } from '../../core/plan/same-value.ts';
import type { TrainingDay } from '../../core/plan/training-day.ts';
import { STORED, type Stored } from '../../core/stored.ts';
import {
  daysAmong,
  decisionsAmong,
  listingsAmong,
  newestAmong,
  readKeptDay,
  readKeptDecision,
  readKeptPlan,
  versionsAmong,
} from './kept-plans.ts';
import { moveAside } from './move-aside.ts';
import { failed, onDatabase } from './on-database.ts';
import { keysFrom, type PlanRow, type SessionDatabase } from './session-database.ts';

/** Plans, training days and decisions in the browser's database. */
export class IdbPlanStore implements PlanStore {
  readonly lasts = 'on-this-machine';
  readonly #db: SessionDatabase;

  constructor(db: SessionDatabase) {
    this.#db = db;
  }

  keepVersion(plan: Plan): Promise<Stored<null>> {
    const { plans, aside } = this.#db;
    const { id: planId, version } = plan;
    // As for session records: asked for once something is worth keeping, and not waited for.
    navigator.storage?.persist?.().catch(() => false);
    return this.#attempt(() =>
      this.#db.transaction('rw', plans, aside, async () => {
        const kept = await plans.get([planId, version]);
        if (kept !== undefined && readKeptPlan(kept.plan) === null)
          await moveAside(this.#db, 'plans', [planId, version], kept);
        else if (kept !== undefined && !isSameValue(kept.plan, plan))
          return failed('already-kept', `Another version ${version} of plan ${planId} is kept.`);
        await plans.put({ planId, version, plan });
        return STORED;
      }),
    );
  }

  listPlans(): Promise<Stored<PlanListing[]>> {
    const { plans, days } = this.#db;
    return this.#attempt(async () => {
      const rows = { plans: await plans.toArray(), days: await days.toArray() };
      return { ok: true, value: listingsAmong(rows, await this.#followedPlanId()) };
    });
  }

  versionsOf(planId: string): Promise<Stored<KeptList<Plan>>> {
    return this.#attempt(async (): Promise<Stored<KeptList<Plan>>> => {
      const rows = await this.#versions(planId);
      return rows.length === 0 ? missing(planId) : { ok: true, value: versionsAmong(rows) };
    });
  }

  loadVersion(planId: string, version: number): Promise<Stored<Plan>> {
    return this.#attempt(async () => {
      const row = await this.#db.plans.get([planId, version]);
      return row === undefined ? missing(planId) : readable(readKeptPlan(row.plan), planId);
    });
  }

  followed(): Promise<Stored<Plan | null>> {
    return this.#attempt(async (): Promise<Stored<Plan | null>> => {
      const planId = await this.#followedPlanId();
      const rows = planId === null ? [] : await this.#versions(planId);
      // A plan that was deleted is not followed any more.
      return planId === null || rows.length === 0
        ? { ok: true, value: null }
        : readable(newestAmong(rows), planId);
    });
  }

  follow(planId: string | null): Promise<Stored<null>> {
    const { plans, desk } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', plans, desk, async () => {
        if (planId === null) await desk.delete('followed');
        else if ((await this.#versions(planId)).length === 0) return missing(planId);
        else await desk.put({ key: 'followed', value: planId });
        return STORED;
      }),
    );
  }

  keepDraft(draft: Plan | null): Promise<Stored<null>> {
    const { desk } = this.#db;
    return this.#attempt(async () => {
      if (draft === null) await desk.delete('draft');
      else await desk.put({ key: 'draft', value: draft });
      return STORED;
    });
  }

  draft(): Promise<Stored<Plan | null>> {
    return this.#attempt(async () => ({
      ok: true,
      value: readKeptPlan((await this.#db.desk.get('draft'))?.value),
    }));
  }

  putDay(day: TrainingDay): Promise<Stored<null>> {
    return this.#changeDay(day, () => ({ put: day, then: null }));
  }

  async mergeDay(day: TrainingDay): Promise<Stored<DayMerging>> {
    // Loaded before the transaction, which ends when anything else is waited for; the first screen never merges.
    const { mergedDay } = await import('../../core/plan/merge-days.ts');
    return this.#changeDay(day, (kept) => mergedDay(kept, day));
  }

  loadDay(dayId: string): Promise<Stored<TrainingDay>> {
    return this.#attempt(async () => {
      const row = await this.#db.days.get(dayId);
      return row === undefined ? missing(dayId) : readable(readKeptDay(row.day), dayId);
    });
  }

  listDays(planId: string): Promise<Stored<KeptList<TrainingDay>>> {
    return this.#attempt(async () => ({
      ok: true,
      value: daysAmong(await this.#db.days.where({ planId }).toArray()),
    }));
  }

  putDecision(decision: Decision): Promise<Stored<null>> {
    const { decisions, aside } = this.#db;
    const { id, planId } = decision;
    return this.#attempt(() =>
      this.#db.transaction('rw', decisions, aside, async () => {
        const kept = await decisions.get(id);
        const isOurs = kept?.planId === planId && readKeptDecision(kept.decision) !== null;
        if (kept !== undefined && !isOurs) await moveAside(this.#db, 'decisions', id, kept);
        await decisions.put({ id, planId, decision });
        return STORED;
      }),
    );
  }

  listDecisions(planId: string): Promise<Stored<KeptList<Decision>>> {
    return this.#attempt(async () => ({
      ok: true,
      value: decisionsAmong(await this.#db.decisions.where({ planId }).toArray()),
    }));
  }

  takeOutPlan(planId: string): Promise<Stored<TakenOut>> {
    const { plans, days, decisions, desk } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', plans, days, decisions, desk, async () => {
        const isFollowed = (await this.#followedPlanId()) === planId;
        const value: TakenOut = {
          plans: await this.#versions(planId),
          days: await days.where({ planId }).toArray(),
          decisions: await decisions.where({ planId }).toArray(),
          followedPlanId: isFollowed ? planId : null,
        };
        await plans
          .where(':id')
          .between(...keysFrom(planId))
          .delete();
        await days.where({ planId }).delete();
        await decisions.where({ planId }).delete();
        if (isFollowed) await desk.delete('followed');
        return { ok: true, value };
      }),
    );
  }

  takeOutDay(dayId: string): Promise<Stored<TakenOut>> {
    const { days } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', days, async () => {
        const row = await days.get(dayId);
        await days.delete(dayId);
        const taken = row === undefined ? [] : [row];
        return { ok: true, value: { plans: [], days: taken, decisions: [], followedPlanId: null } };
      }),
    );
  }

  putBack(taken: TakenOut): Promise<Stored<null>> {
    const { plans, days, decisions, desk } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', plans, days, decisions, desk, async () => {
        await plans.bulkPut([...taken.plans]);
        await days.bulkPut([...taken.days]);
        await decisions.bulkPut([...taken.decisions]);
        if (taken.followedPlanId !== null) await desk.put({ key: 'followed', value: taken.followedPlanId });
        return STORED;
      }),
    );
  }

  /** Writes a day anew after what is kept of it, in one transaction; what cannot be read is set aside. */
  #changeDay<Value>(
    { id, planId }: TrainingDay,
    change: (kept: TrainingDay | null) => { readonly put: TrainingDay | null; readonly then: Value },
  ): Promise<Stored<Value>> {
    const { days, aside } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', days, aside, async () => {
        const row = await days.get(id);
        const kept = row === undefined ? null : readKeptDay(row.day);
        const { put, then } = change(kept);
        if (put === null) return { ok: true, value: then };
        if (row !== undefined && kept === null) await moveAside(this.#db, 'days', id, row);
        await days.put({ id, planId, day: put });
        return { ok: true, value: then };
      }),
    );
  }

  async #followedPlanId(): Promise<string | null> {
    const value = (await this.#db.desk.get('followed'))?.value;
    return typeof value === 'string' ? value : null;
  }

  #versions(planId: string): PromiseLike<PlanRow[]> {
    return this.#db.plans
      .where(':id')
      .between(...keysFrom(planId))
      .toArray();
  }

  #attempt<Value>(work: () => PromiseLike<Stored<Value>>): Promise<Stored<Value>> {
    return onDatabase(this.#db, work);
  }
}

function missing(id: string): Stored<never> {
  return failed('missing', `Nothing is kept under ${id}.`);
}

function readable<Value>(value: Value | null, id: string): Stored<Value> {
  return value === null
    ? failed('unreadable', `What is kept under ${id} cannot be read.`)
    : { ok: true, value };
}
