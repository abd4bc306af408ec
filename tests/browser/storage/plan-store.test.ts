import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { StorageBrowser } from './storage-browser.ts';

let browser: StorageBrowser;

beforeAll(async () => {
  browser = await StorageBrowser.open();
});
afterAll(() => browser.close());

describe('plans, training days and decisions in the browser', () => {
  it('outlive the tab and the browser, with what is followed and what is being written', async () => {
    const page = await browser.newPage();
    await page.evaluate(async () => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const { plans } = await parts.openSessionStore();
      const { inventedPlan, nextVersion, dayOn } = parts.plans;
      const first = inventedPlan();
      const second = nextVersion(first, { stageKey: 'body-curl' }, '2026-03-14T10:00:00+01:00');
      for (const plan of [first, second]) await plans.keepVersion(plan);
      await plans.follow(first.id);
      await plans.putDay(dayOn(first, '03-02', { morning: null }));
      await plans.putDay(dayOn(first, '03-02', { morning: 4 }));
      await plans.keepDraft({ ...second, reason: 'Half written.' });
    });
    await browser.killBrowser();
    const again = await browser.newPage();
    const result = await again.evaluate(async () => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const { plans } = await parts.openSessionStore();
      const { id } = parts.plans.inventedPlan();
      const [followed, versions, days, draft] = [
        await plans.followed(),
        await plans.versionsOf(id),
        await plans.listDays(id),
        await plans.draft(),
      ];
      const other = await plans.keepVersion({ ...parts.plans.inventedPlan(), reason: 'Another.' });
      return {
        lasts: plans.lasts,
        followed: followed.ok && followed.value?.version,
        versions: versions.ok && versions.value.items.map(({ version, stageKey }) => [version, stageKey]),
        mornings: days.ok && days.value.items.map(({ nextMorning }) => nextMorning?.pain),
        draft: draft.ok && draft.value?.reason,
        other: other.ok ? 'kept' : other.problem,
      };
    });
    await again.close();
    expect(result).toEqual({
      lasts: 'on-this-machine',
      followed: 2,
      versions: [
        [1, 'hold'],
        [2, 'body-curl'],
      ],
      mornings: [4],
      draft: 'Half written.',
      other: 'already-kept',
    });
  });

  it('leave nothing behind when a plan is deleted, and come back whole, damaged rows included', async () => {
    const page = await browser.newPage();
    const result = await page.evaluate(async () => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const { plans } = await parts.openSessionStore();
      const plan = { ...parts.plans.inventedPlan(), id: crypto.randomUUID() };
      await plans.keepVersion(plan);
      await plans.putDay({ ...parts.plans.dayOn(plan, '03-02'), id: crypto.randomUUID() });
      await plans.follow(plan.id);
      const db = new parts.SessionDatabase();
      await db.days.put({ id: crypto.randomUUID(), planId: plan.id, day: { painBefore: 'much' } });
      await db.plans.put({ planId: plan.id, version: 2, plan: null });
      const ask = async (): Promise<string> =>
        JSON.stringify([
          await plans.listPlans(),
          await plans.versionsOf(plan.id),
          await plans.listDays(plan.id),
          await plans.followed(),
        ]);
      const before = await ask();
      const taken = await plans.takeOutPlan(plan.id);
      const left = [
        await db.plans.where(':id').between([plan.id, 0], [plan.id, 99]).count(),
        await db.days.where({ planId: plan.id }).count(),
      ];
      const followed = await plans.followed();
      if (taken.ok) await plans.putBack(taken.value);
      const days = await plans.listDays(plan.id);
      return {
        left,
        followed: followed.ok && followed.value,
        isSame: (await ask()) === before,
        days: days.ok && [days.value.items.length, days.value.unreadable],
      };
    });
    await page.close();
    expect(result).toEqual({ left: [0, 0], followed: null, isSame: true, days: [1, 1] });
  });

  it('are still written after the browser lost its connection to the database', async () => {
    const page = await browser.newPage();
    const result = await page.evaluate(async () => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const db = new parts.SessionDatabase();
      await db.open();
      const plans = new parts.IdbPlanStore(db);
      db.close();
      const plan = { ...parts.plans.inventedPlan(), id: crypto.randomUUID() };
      const kept = await plans.keepVersion(plan);
      const loaded = await plans.loadVersion(plan.id, 1);
      return [kept.ok, loaded.ok];
    });
    await page.close();
    expect(result).toEqual([true, true]);
  });
});

describe('a database of the version before plans were kept', () => {
  it('takes plans, and has its sessions as they were', async () => {
    const old = await StorageBrowser.open();
    const page = await old.newPage();
    const result = await page.evaluate(async (id) => {
      const [storage, parts] = [window.storagePage, window.storageParts];
      if (!storage || !parts) throw new Error('no page');
      // As version 1 of the database was written, with one session in it.
      await storage.recordFast(id, 3);
      const now = new parts.SessionDatabase();
      const rows = {
        sessions: await now.sessions.toArray(),
        sets: await now.sets.toArray(),
        pieces: await now.pieces.toArray(),
      };
      await now.delete();
      const before = new parts.Dexie('forearmed');
      before.version(1).stores({
        sessions: 'id',
        sets: '[sessionId+setIndex]',
        pieces: '[sessionId+setIndex+pieceIndex]',
      });
      for (const [table, content] of Object.entries(rows)) await before.table(table).bulkPut(content);
      before.close();
      const { store, plans } = await parts.openSessionStore();
      const loaded = await store.loadSession(id);
      const kept = await plans.keepVersion(parts.plans.inventedPlan());
      return {
        repetitions: loaded.ok && loaded.value.sets[0]?.frames.frameCount,
        lasts: store.lasts,
        kept: kept.ok,
      };
    }, '3f1c2b4e-8d57-4a6f-9b0e-5c2d7a91e699');
    await old.close();
    expect(result).toEqual({ repetitions: 90, lasts: 'on-this-machine', kept: true });
  });
});

describe('when the browser lets the page keep nothing', () => {
  it('plans are kept for the visit, and it is said', async () => {
    // The setting that a person makes to block all site data (2: block).
    const blocked = await StorageBrowser.open({
      profile: { default_content_setting_values: { cookies: 2 } },
    });
    const page = await blocked.newPage();
    const result = await page.evaluate(async () => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const { plans, problem } = await parts.openSessionStore();
      const plan = parts.plans.inventedPlan();
      await plans.keepVersion(plan);
      await plans.follow(plan.id);
      const followed = await plans.followed();
      return [problem, plans.lasts, followed.ok && followed.value?.id === plan.id];
    });
    await blocked.close();
    expect(result).toEqual(['forbidden', 'this-visit', true]);
  });
});

describe('when the storage is full', () => {
  it('it is said, nothing kept is lost, and it is kept when there is room again', async () => {
    // Chromium remembers for half a minute how much room an origin had: this one must not have been asked before.
    const fresh = await StorageBrowser.open();
    const page = await fresh.newPage();
    const session = await page.context().newCDPSession(page);
    const origin = fresh.origin;
    const used = await page.evaluate(async () => (await navigator.storage.estimate()).usage ?? 0);
    await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: used + 60_000 });
    const full = await page.evaluate(async () => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const { plans } = await parts.openSessionStore();
      for (let count = 0; count < 200; count++) {
        const kept = await plans.keepVersion({ ...parts.plans.inventedPlan(), id: crypto.randomUUID() });
        if (!kept.ok) return { problem: kept.problem, count };
      }
      return { problem: null, count: 200 };
    });
    await session.send('Storage.overrideQuotaForOrigin', { origin });
    const after = await page.evaluate(async () => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const { plans } = await parts.openSessionStore();
      const listed = await plans.listPlans();
      const kept = await plans.keepVersion({ ...parts.plans.inventedPlan(), id: crypto.randomUUID() });
      return { count: listed.ok ? listed.value.length : null, kept: kept.ok };
    });
    await fresh.close();
    expect(full.problem).toBe('full');
    expect(after).toEqual({ count: full.count, kept: true });
  });
});
