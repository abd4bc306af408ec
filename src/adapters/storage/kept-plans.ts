import { decisionSchema, type Decision } from '../../core/plan/decision.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { KeptList, PlanListing, TakenOut } from '../../core/plan/plan-store.ts';
import { readDayValue, readPlanValue } from '../../core/plan/read-plan.ts';
import type { TrainingDay } from '../../core/plan/training-day.ts';

/* What both plan stores do with the rows that they keep: reading them through their gates, and putting them in order. */

type Rows = Pick<TakenOut, 'plans' | 'days' | 'decisions'>;

/** A kept plan, or null where it cannot be read. */
export function readKeptPlan(value: unknown): Plan | null {
  const reading = readPlanValue(value);
  return reading.ok ? reading.plan : null;
}

/** A kept training day, or null where it cannot be read. */
export function readKeptDay(value: unknown): TrainingDay | null {
  const reading = readDayValue(value);
  return reading.ok ? reading.day : null;
}

/** A kept decision, or null where it cannot be read. */
export function readKeptDecision(value: unknown): Decision | null {
  return decisionSchema.safeParse(value).data ?? null;
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
  const list = listOf(rows.map(({ decision }) => readKeptDecision(decision)));
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

function listOf<Item>(read: readonly (Item | null)[]): KeptList<Item> {
  const items = read.filter((item) => item !== null);
  return { items, unreadable: read.length - items.length };
}

function inTime<Item>(items: readonly Item[], at: (item: Item) => string): Item[] {
  return [...items].sort((a, b) => Date.parse(at(a)) - Date.parse(at(b)));
}
