import { beforeEach, describe, expect, it } from 'vitest';
import { MemoryExchangeStore } from '../../../src/adapters/storage/memory-exchange-store.ts';
import { MemoryPlanStore } from '../../../src/adapters/storage/memory-plan-store.ts';
import {
  besideApart,
  newestVersions,
  putInForce,
  takePlan,
  type WaitingPlan,
} from '../../../src/core/exchange/waiting-plans.ts';
import { waitingVersion } from '../../../src/state/waiting-version.ts';
import type { Plan } from '../../../src/core/plan/plan.ts';
import { inventedPlan, nextVersion, PLAN_ID } from '../../helpers/plan-days.ts';
import { SAMPLE_MOMENT } from '../../helpers/sample-package.ts';

/* A newer version of a plan that comes from elsewhere is followed by nobody before that is said. */

const first = inventedPlan();
const second = nextVersion(first, { stageKey: 'body-curl' }, '2026-03-14T10:00:00+01:00', 'Six good days.');
const third = nextVersion(second, { stageKey: 'hold' }, '2026-03-20T10:00:00+01:00', 'Back to holds.');

let stores: { plans: MemoryPlanStore; exchange: MemoryExchangeStore };

beforeEach(() => {
  stores = { plans: new MemoryPlanStore(), exchange: new MemoryExchangeStore() };
});

/** Takes the versions of one file in. */
async function take(...versions: readonly Plan[]): Promise<string[]> {
  const before = await newestVersions(stores.plans);
  if (!before.ok) throw new Error(before.detail);
  const arrival = { fileName: 'one.age', cameAt: SAMPLE_MOMENT, newestBefore: before.value };
  const taken: string[] = [];
  for (const version of versions) {
    const one = await takePlan(version, arrival, stores);
    taken.push(one.ok ? one.value : one.problem);
  }
  return taken;
}

async function waiting(): Promise<readonly WaitingPlan[]> {
  const rows = await stores.exchange.listBeside();
  return rows.ok ? (await besideApart(rows.value, stores.plans)).waiting : [];
}

async function keptVersions(): Promise<number[]> {
  const kept = await stores.plans.versionsOf(PLAN_ID);
  return kept.ok ? kept.value.items.map(({ version }) => version) : [];
}

const followedVersion = async (): Promise<number | undefined> => {
  const followed = await stores.plans.followed();
  return followed.ok ? followed.value?.version : undefined;
};

describe('a plan that comes in a package', () => {
  it('is kept with all its versions where nothing of it was kept', async () => {
    expect(await take(first, second)).toEqual(['new', 'new']);
    expect(await waiting()).toEqual([]);
  });

  it('waits where a newer version comes, and the kept one goes on being followed', async () => {
    await take(first);
    await stores.plans.follow(PLAN_ID);
    expect(await take(first, second)).toEqual(['same', 'waits']);
    expect(await followedVersion()).toBe(1);
    expect(await waiting()).toMatchObject([{ plan: { version: 2 }, inForce: { version: 1 } }]);
  });

  it('is told to whoever begins a day by the plan, and of no other plan', async () => {
    const look = (planId: string) =>
      waitingVersion(planId, { exchange: async () => stores.exchange, plans: stores.plans });
    await take(first);
    expect(await look(PLAN_ID)).toBeNull();
    await take(second, third);
    expect(await look(PLAN_ID)).toMatchObject({ plan: { version: 3 }, inForce: { version: 1 } });
    expect(await look('another')).toBeNull();
    const [one] = await waiting();
    if (one !== undefined) await putInForce(one, stores);
    expect(await look(PLAN_ID)).toBeNull();
  });

  it('is in force only when that is said, with the versions between', async () => {
    await take(first);
    await stores.plans.follow(PLAN_ID);
    await take(second, third);
    const [one] = await waiting();
    expect(one).toMatchObject({ plan: { version: 3 }, rows: { length: 2 } });
    if (one === undefined) throw new Error('Nothing waits.');
    expect((await putInForce(one, stores)).ok).toBe(true);
    expect(await keptVersions()).toEqual([1, 2, 3]);
    expect(await followedVersion()).toBe(3);
    expect(await waiting()).toEqual([]);
  });

  it('waits once, however often the same package comes', async () => {
    await take(first);
    await take(second);
    expect(await take(second)).toEqual(['waits']);
    expect(await waiting()).toMatchObject([{ rows: { length: 1 } }]);
  });

  it('is kept at once as history where it is older than what is kept', async () => {
    await take(second);
    expect(await take(first)).toEqual(['new']);
    expect(await keptVersions()).toEqual([1, 2]);
    expect(await waiting()).toEqual([]);
  });

  it('waits no longer once a version of the same number was written here, and is not lost', async () => {
    await take(first);
    await take(second);
    await stores.plans.keepVersion({ ...second, reason: 'Written here.' });
    expect(await waiting()).toEqual([]);
    const rows = await stores.exchange.listBeside();
    expect(rows.ok && (await besideApart(rows.value, stores.plans)).others).toHaveLength(1);
  });
});
