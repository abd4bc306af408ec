import type { Plan } from '../plan/plan.ts';
import type { PlanStore } from '../plan/plan-store.ts';
import { isSameValue } from '../plan/same-value.ts';
import { STORED, type Stored } from '../stored.ts';
import { besideOf, type ExchangeStore, type KeptBeside } from './exchange-store.ts';
import { readItem } from './package-items.ts';

/* A newer version of a plan that comes from elsewhere changes nothing by itself: it waits beside until somebody says so. */

/** From which file something comes, and when. */
export interface Arrival {
  readonly fileName: string;
  /** Moment with offset. */
  readonly cameAt: string;
  /** The newest version of each plan that was kept before anything of the file was: a later one waits. */
  readonly newestBefore: ReadonlyMap<string, number>;
}

/** For what brings no plan: none has to wait. */
export const NO_PLANS_BEFORE: Arrival['newestBefore'] = new Map();

/** The stores of plans and of what waits. */
export interface PlanStores {
  readonly plans: PlanStore;
  readonly exchange: ExchangeStore;
}

/** Versions of a plan that came and wait, later than any that is kept. */
export interface WaitingPlan {
  /** The newest that waits: the one that is asked about. */
  readonly plan: Plan;
  /** The newest that is kept, by which everything goes until it is decided. */
  readonly inForce: Plan;
  /** The rows of all that wait, the oldest version first. */
  readonly rows: readonly KeptBeside[];
}

/** The newest kept version of each plan. */
export async function newestVersions(
  plans: Pick<PlanStore, 'listPlans'>,
): Promise<Stored<ReadonlyMap<string, number>>> {
  const listed = await plans.listPlans();
  if (!listed.ok) return listed;
  const known = listed.value.flatMap(({ planId, newest }) =>
    newest === null ? [] : [[planId, newest.version] as const],
  );
  return { ok: true, value: new Map(known) };
}

/**
 * Keeps a version of a plan that came from elsewhere: a plan of which nothing was kept before, and a version older than
 * what was; a newer one waits. Another content under the number of a kept version is kept beside.
 */
export async function takePlan(
  plan: Plan,
  { fileName, cameAt, newestBefore }: Arrival,
  { plans, exchange }: PlanStores,
): Promise<Stored<'new' | 'same' | 'waits' | 'beside'>> {
  const kept = await plans.loadVersion(plan.id, plan.version);
  if (!kept.ok && kept.problem !== 'missing' && kept.problem !== 'unreadable') return kept;
  if (kept.ok && isSameValue(kept.value, plan)) return { ok: true, value: 'same' };
  const isKept = kept.ok || kept.problem !== 'missing';
  const before = newestBefore.get(plan.id);
  if (!isKept && (before === undefined || plan.version < before)) {
    const stored = await plans.keepVersion(plan);
    return stored.ok ? { ok: true, value: 'new' } : stored;
  }
  const stored = await exchange.keepBeside(await besideOf({ kind: 'plan', plan }, fileName, cameAt));
  return stored.ok ? { ok: true, value: isKept ? 'beside' : 'waits' } : stored;
}

/** What is kept beside, told apart. */
export interface Beside {
  /** One entry for each plan. */
  readonly waiting: readonly WaitingPlan[];
  /** What came under the name of something else. */
  readonly others: readonly KeptBeside[];
}

/** Tells what waits from what stands beside for another reason. */
export async function besideApart(
  rows: readonly KeptBeside[],
  plans: Pick<PlanStore, 'versionsOf'>,
): Promise<Beside> {
  const waiting = await waitingAmong(rows, plans);
  const those = new Set(waiting.flatMap((each) => each.rows.map(({ key }) => key)));
  return { waiting, others: rows.filter(({ key }) => !those.has(key)) };
}

async function waitingAmong(
  rows: readonly KeptBeside[],
  plans: Pick<PlanStore, 'versionsOf'>,
): Promise<WaitingPlan[]> {
  const came = await Promise.all(
    rows
      .filter(({ entry }) => entry.kind === 'plan')
      .map(async (row) => ({ row, reading: await readItem(row.entry, row.content) })),
  );
  const read = came.flatMap(({ row, reading }) =>
    reading.ok && reading.value?.kind === 'plan' ? [{ row, plan: reading.value.plan }] : [],
  );
  const ids = [...new Set(read.map(({ plan }) => plan.id))];
  const waiting = await Promise.all(
    ids.map(async (id): Promise<WaitingPlan[]> => {
      const versions = await plans.versionsOf(id);
      const inForce = versions.ok ? versions.value.items.at(-1) : undefined;
      if (inForce === undefined) return [];
      const later = read
        .filter(({ plan }) => plan.id === id && plan.version > inForce.version)
        .sort((a, b) => a.plan.version - b.plan.version);
      const newest = later.at(-1);
      return newest === undefined ? [] : [{ plan: newest.plan, inForce, rows: later.map(({ row }) => row) }];
    }),
  );
  return waiting.flat();
}

/** Puts what waited in force: keeps its versions, the oldest first. Of two under one number the second stays beside. */
export async function putInForce(
  { rows }: WaitingPlan,
  { plans, exchange }: PlanStores,
): Promise<Stored<null>> {
  for (const row of rows) {
    const reading = await readItem(row.entry, row.content);
    if (!reading.ok || reading.value?.kind !== 'plan') continue;
    const kept = await plans.keepVersion(reading.value.plan);
    if (!kept.ok && kept.problem === 'already-kept') continue;
    const gone = kept.ok ? await exchange.removeBeside(row.key) : kept;
    if (!gone.ok) return gone;
  }
  return STORED;
}
