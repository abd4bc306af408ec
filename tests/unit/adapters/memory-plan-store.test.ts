import { expect, it } from 'vitest';
import { MemoryPlanStore } from '../../../src/adapters/storage/memory-plan-store.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';

const first = inventedPlan();
const second = nextVersion(first, { stageKey: 'body-curl' }, '2026-03-14T10:00:00+01:00');
const days = [dayOn(first, '03-04'), dayOn(first, '03-02')];

async function filled(): Promise<MemoryPlanStore> {
  const store = new MemoryPlanStore();
  for (const plan of [second, first]) await store.keepVersion(plan);
  for (const day of days) await store.putDay(day);
  await store.follow(first.id);
  return store;
}

/** Everything that can be asked of a plan in a store. */
async function contents(store: MemoryPlanStore): Promise<unknown> {
  return [
    await store.listPlans(),
    await store.versionsOf(first.id),
    await store.listDays(first.id),
    await store.followed(),
  ];
}

it('a version that is kept is never changed, and the same one again is no harm', async () => {
  const store = await filled();
  expect(await store.keepVersion({ ...second })).toMatchObject({ ok: true });
  expect(await store.keepVersion({ ...second, reason: 'Another.' })).toMatchObject({
    ok: false,
    problem: 'already-kept',
  });
  expect(await store.loadVersion(first.id, 2)).toEqual({ ok: true, value: second });
});

it('versions and days come the oldest first, and the newest version is followed', async () => {
  const store = await filled();
  const versions = await store.versionsOf(first.id);
  expect(versions.ok && versions.value.items.map(({ version }) => version)).toEqual([1, 2]);
  const listed = await store.listDays(first.id);
  expect(listed.ok && listed.value.items.map(({ startedAt }) => startedAt.slice(5, 10))).toEqual([
    '03-02',
    '03-04',
  ]);
  expect(await store.followed()).toEqual({ ok: true, value: second });
});

it('what was deleted is put back whole, damaged rows included', async () => {
  const store = await filled();
  const damaged = { id: 'x', planId: first.id, day: { painBefore: 'much' } };
  await store.putBack({ plans: [], days: [damaged], decisions: [], followedPlanId: null });
  const before = await contents(store);
  const taken = await store.takeOutPlan(first.id);
  expect(await store.listPlans()).toEqual({ ok: true, value: [] });
  expect(await store.followed()).toEqual({ ok: true, value: null });
  if (!taken.ok) throw new Error(taken.detail);
  await store.putBack(taken.value);
  expect(await contents(store)).toEqual(before);
  expect(before).toContainEqual({ ok: true, value: { items: [days[1], days[0]], unreadable: 1 } });
});

it('a plan that is not kept cannot be followed', async () => {
  const store = new MemoryPlanStore();
  expect(await store.follow(first.id)).toMatchObject({ ok: false, problem: 'missing' });
});
