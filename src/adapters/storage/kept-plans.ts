import { decisionSchema, type Decision } from '../../core/plan/decision.ts';
import { planSchema, type Plan } from '../../core/plan/plan.ts';
import type { KeptList, PlanListing, TakenOut } from '../../core/plan/plan-store.ts';
import { trainingDaySchema, type TrainingDay } from '../../core/plan/training-day.ts';

/* What both plan stores do with the rows that they keep: reading them through their gates, and putting them in order. */

type Rows = Pick<TakenOut, 'plans' | 'days' | 'decisions'>;

/** A kept plan, or null where it cannot be read. */
export function readKeptPlan(value: unknown): Plan | null {
  return planSchema.safeParse(value).data ?? null;
}

/** A kept training day, or null where it cannot be read. */
export function readKeptDay(value: unknown): TrainingDay | null {
  return trainingDaySchema.safeParse(value).data ?? null;
}

/** The versions among the rows, the oldest first. */
export function versionsAmong(rows: Rows['plans']): KeptList<Plan> {
  const list = listOf(rows.map(({ plan }) => readKeptPlan(plan)));
  return { ...list, items: [...list.items].sort((a, b) => a.version - b.version) };
}

/** The days among the rows, the oldest first. */
export function daysAmong(rows: Rows['days']): KeptList<TrainingDay> {
  const list = listOf(rows.map(({ day }) => readKeptDay(day)));
  return { ...list, items: inTime(list.items, ({ startedAt }) => startedAt) };
}

/** The decisions among the rows, the oldest first. */
export function decisionsAmong(rows: Rows['decisions']): KeptList<Decision> {
  const list = listOf(rows.map(({ decision }) => decisionSchema.safeParse(decision).data ?? null));
  return { ...list, items: inTime(list.items, ({ decidedAt }) => decidedAt) };
}

/** The newest version among the rows that can be read, or null. */
export function newestAmong(rows: Rows['plans']): Plan | null {
  return versionsAmong(rows).items.at(-1) ?? null;
}

/** The plans among the rows, the last written first; those that cannot be read come last. */
export function listingsAmong(
  { plans, days }: Pick<Rows, 'plans' | 'days'>,
  followedPlanId: string | null,
): PlanListing[] {
  const writtenAt = ({ newest }: PlanListing): number => (newest === null ? 0 : Date.parse(newest.writtenAt));
  return [...new Set(plans.map(({ planId }) => planId))]
    .map((planId) => {
      const versions = plans.filter((row) => row.planId === planId);
      return {
        planId,
        newest: newestAmong(versions),
        versionCount: versions.length,
        dayCount: days.filter((row) => row.planId === planId).length,
        isFollowed: planId === followedPlanId,
      };
    })
    .sort((a, b) => writtenAt(b) - writtenAt(a));
}

/** True where a version that is kept holds just what another holds. */
export function isSameValue(kept: unknown, other: unknown): boolean {
  return JSON.stringify(inOrder(kept)) === JSON.stringify(inOrder(other));
}

/** The same value with the names of every object in order, so that their order does not tell values apart. */
function inOrder(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inOrder);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([name, inner]) => [name, inOrder(inner)]));
}

function listOf<Item>(read: readonly (Item | null)[]): KeptList<Item> {
  const items = read.filter((item) => item !== null);
  return { items, unreadable: read.length - items.length };
}

function inTime<Item>(items: readonly Item[], at: (item: Item) => string): Item[] {
  return [...items].sort((a, b) => Date.parse(at(a)) - Date.parse(at(b)));
}
