import type { Stored } from '../stored.ts';
import type { Decision } from './decision.ts';
import type { DayMerging } from './merge-days.ts';
import type { Plan } from './plan.ts';
import type { TrainingDay } from './training-day.ts';

/** What could be read of what is kept, and how many kept values could not: a damaged one never breaks a list. */
export interface KeptList<Item> {
  readonly items: readonly Item[];
  readonly unreadable: number;
}

/** A kept plan in a list. */
export interface PlanListing {
  readonly planId: string;
  /** The newest version that can be read; null where none can. */
  readonly newest: Plan | null;
  /** Versions kept, readable or not. */
  readonly versionCount: number;
  readonly dayCount: number;
  /** True of the plan that sessions here follow. */
  readonly isFollowed: boolean;
}

/** Rows that were taken out of the store as they were, damaged ones included; only for putting them back. */
export interface TakenOut {
  readonly plans: readonly { readonly planId: string; readonly version: number; readonly plan: unknown }[];
  readonly days: readonly { readonly id: string; readonly planId: string; readonly day: unknown }[];
  readonly decisions: readonly {
    readonly id: string;
    readonly planId: string;
    readonly decision: unknown;
  }[];
  /** The plan that was followed and went away with these rows. */
  readonly followedPlanId: string | null;
}

/**
 * Keeps plans with all their versions, the plan that is followed, training days and decisions. Nothing rejects: every
 * failure is a value. Every step may be repeated without harm. What is kept under the same name and cannot be read is never
 * written over: it is set aside.
 */
export interface PlanStore {
  /** "this-visit" keeps nothing beyond the page: storage is forbidden here. */
  readonly lasts: 'on-this-machine' | 'this-visit';
  /**
   * Keeps one version of a plan. A version that is kept is never changed: the same one again is fine, another one under
   * the same number is "already-kept".
   */
  keepVersion(plan: Plan): Promise<Stored<null>>;
  /** All kept plans, the last written first. */
  listPlans(): Promise<Stored<PlanListing[]>>;
  /** All versions of a plan, the oldest first. */
  versionsOf(planId: string): Promise<Stored<KeptList<Plan>>>;
  loadVersion(planId: string, version: number): Promise<Stored<Plan>>;
  /** The newest version of the plan that sessions here follow, or null where none is followed. */
  followed(): Promise<Stored<Plan | null>>;
  /** From now on sessions here follow this plan; null: none. */
  follow(planId: string | null): Promise<Stored<null>>;
  /** Keeps a plan that is still being written, so that a closed tab does not cost it; null lets go of it. */
  keepDraft(draft: Plan | null): Promise<Stored<null>>;
  /** The plan that is being written, or null. */
  draft(): Promise<Stored<Plan | null>>;
  /** Keeps a training day, or keeps it anew while it goes on. */
  putDay(day: TrainingDay): Promise<Stored<null>>;
  /**
   * Keeps a day that comes from elsewhere where it tells more than what is kept of it. What is kept is read and written in one
   * step, so that of two states that come at once the later one stays, whichever came first.
   */
  mergeDay(day: TrainingDay): Promise<Stored<DayMerging>>;
  loadDay(dayId: string): Promise<Stored<TrainingDay>>;
  /** The training days of a plan, all its versions, the oldest first. */
  listDays(planId: string): Promise<Stored<KeptList<TrainingDay>>>;
  putDecision(decision: Decision): Promise<Stored<null>>;
  /** The decisions on a plan, the oldest first. */
  listDecisions(planId: string): Promise<Stored<KeptList<Decision>>>;
  /** Deletes a plan with everything of it, and gives what was deleted so that it can be put back. */
  takeOutPlan(planId: string): Promise<Stored<TakenOut>>;
  /** Deletes one training day; its session records stay. */
  takeOutDay(dayId: string): Promise<Stored<TakenOut>>;
  /** Puts back what was taken out. */
  putBack(taken: TakenOut): Promise<Stored<null>>;
}
