import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CarePage } from './care-page.ts';
import { StorageBrowser } from './storage-browser.ts';

const REVIEW: unknown = JSON.parse(
  readFileSync(new URL('../../fixtures/reviews/v1-body-curl.review.json', import.meta.url), 'utf8'),
);
const DOCUMENTS = ['sessions', 'plans', 'days', 'decisions', 'reviews'] as const;

let browser: StorageBrowser;
let page: Page;
/** What the filled store says. */
let before: Awaited<ReturnType<CarePage['contents']>>;

/** One store for all: every test ends with everything in it. */
beforeAll(async () => {
  browser = await StorageBrowser.open(undefined, 'care-page.ts');
  page = await browser.newPage();
  await page.evaluate(([id, review]) => window.carePage?.fill(id, review), [randomUUID(), REVIEW] as const);
  before = await care('contents');
  await care('backUp');
});
afterAll(() => browser.close());

/** Does one thing of the page. */
function care<Name extends Exclude<keyof CarePage, 'fill' | 'damage'>>(
  name: Name,
): Promise<Awaited<ReturnType<CarePage[Name]>>> {
  return page.evaluate(async (it) => {
    const all = window.carePage;
    if (!all) throw new Error('no page');
    return (await all[it]()) as never;
  }, name);
}

describe('a backup of one of each kind, with a video', () => {
  it('brings everything back into an empty store as it was, and changes nothing in the filled one', async () => {
    const overFilled = await care('restore');
    expect(overFilled.counts).toMatchObject({ added: 0, 'kept-both': 0, left: 0 });
    expect(await care('contents')).toEqual(before);
    await care('empty');
    // Session, plan, what is followed, day, decision, review, what was beside, video.
    expect(await care('restore')).toMatchObject({ counts: { added: 8, 'kept-both': 0 }, stopped: null });
    expect(await care('contents')).toEqual(before);
  });

  it('takes the place of rows that cannot be read, which are kept aside as they were', async () => {
    for (const table of DOCUMENTS) await page.evaluate((it) => window.carePage?.damage(it), table);
    const report = await care('restore');
    expect(report.stopped).toBeNull();
    const after = await care('contents');
    for (const table of [...DOCUMENTS, 'records'] as const)
      expect(after[table], table).toEqual(before[table]);
    const aside = (after['aside'] ?? []).map((row) => (JSON.parse(row) as { table: string }).table);
    expect(aside.toSorted()).toEqual(DOCUMENTS.toSorted());
    for (const row of after['aside'] ?? []) expect(row).toContain('nothing that can be read');
    expect(await care('check')).toEqual([]);
    await care('clearAside');
  });
});

describe('repair', () => {
  it('sets aside what cannot be read with all that belongs to it, and leaves the rest as it was', async () => {
    for (const table of ['sessions', 'reviews'] as const)
      await page.evaluate((it) => window.carePage?.damage(it), table);
    expect((await care('check')).map(({ table }) => table).toSorted()).toEqual(['reviews', 'sessions']);
    expect(await care('repair')).toBe(2);
    expect(await care('check')).toEqual([]);
    const after = await care('contents');
    expect(after['sessions']).toEqual([]);
    expect(after['aside']).toHaveLength(2);
    expect(after['aside']?.join()).toContain('"frameCount"');
    for (const table of ['plans', 'days', 'decisions', 'beside', 'videos', 'videoChunks'])
      expect(after[table], table).toEqual(before[table]);
    await care('restore');
    expect((await care('contents'))['records']).toEqual(before['records']);
    await care('clearAside');
  });
});

describe('what stands beside, and keys', () => {
  it('are checked too, and set aside as they were; no backup has what was a key', async () => {
    await care('damageBesideAndKeys');
    expect((await care('check')).map(({ table, kind }) => `${table} ${kind}`).toSorted()).toEqual([
      'beside unreadable',
      'keys unreadable',
    ]);
    expect(JSON.stringify(await care('check'))).not.toContain('AGE-SECRET-KEY');
    expect(await care('repair')).toBe(2);
    expect(await care('check')).toEqual([]);
    const after = await care('contents');
    expect(after['beside']).toEqual([]);
    expect(after['keys']?.join()).toContain('of a newer version');
    const aside = after['aside']?.join() ?? '';
    expect(aside).toContain('AGE-SECRET-KEY-1BROKEN');
    // The hundred bytes that were left, in base64.
    const cut = /"content":"([^"]+)"/.exec(aside)?.[1] ?? '';
    expect(Buffer.from(cut, 'base64')).toHaveLength(100);
    await care('backUp');
    const backup = await care('backupText');
    expect(backup).toContain(cut);
    expect(backup).not.toContain('AGE-SECRET-KEY');
    await care('clearAside');
    await care('empty');
    await page.evaluate(([id, review]) => window.carePage?.fill(id, review), [randomUUID(), REVIEW] as const);
    before = await care('contents');
    await care('backUp');
  });
});

describe('a check', () => {
  it('finds nothing wrong with sessions that come while it looks, and repair takes nothing out of them', async () => {
    const found = await page.evaluate(async () => {
      const all = window.carePage;
      const store = (await window.storageParts?.openSessionStore())?.store;
      const listed = await store?.listSessions();
      const [session] = listed?.ok === true ? listed.value : [];
      const loaded = session === undefined ? undefined : await store?.loadSession(session.id);
      if (!all || !store || loaded?.ok !== true) throw new Error('no page');
      const ids = Array.from({ length: 10 }, () => crypto.randomUUID());
      const coming = Promise.all(ids.map((id) => store.importRecord({ ...loaded.value, id })));
      const troubles = (await Promise.all(Array.from({ length: 4 }, () => all.check()))).flat();
      await coming;
      // As if a check had said so of a set whose session is kept.
      const care = await (await window.storageParts?.openSessionStore())?.care?.();
      const wrongly = { table: 'sets', key: [ids[0] ?? '', 0], kind: 'alone', detail: '' } as const;
      await care?.repair([wrongly], '2026-03-09T08:00:00+01:00', {
        onShare: () => undefined,
        isCancelled: () => false,
      });
      const after = await store.loadSession(ids[0] ?? '');
      for (const id of ids) await store.deleteSession(id);
      return { troubles, sets: after.ok ? after.value.sets.length : 0 };
    });
    expect(found).toEqual({ troubles: [], sets: 1 });
  });
});

describe('a session that is deleted', () => {
  it('comes back with its review and video, and they go once its visit has ended', async () => {
    const rows = (from: Page): Promise<readonly number[]> =>
      from.evaluate(async () => {
        const opened = await window.storageParts?.openSessionStore();
        await opened?.sweep();
        const listed = await (await opened?.reviews())?.listReviews();
        const videos = await (await opened?.videos?.())?.listVideos();
        return [listed, videos].map((all) =>
          all?.ok === true ? ('items' in all.value ? all.value.items : all.value).length : -1,
        );
      });
    const remove = (): Promise<unknown> =>
      page.evaluate(async () => {
        const store = (await window.storageParts?.openSessionStore())?.store;
        const listed = await store?.listSessions();
        const [session] = listed?.ok === true ? listed.value : [];
        const loaded = session === undefined ? undefined : await store?.loadSession(session.id);
        if (session === undefined || loaded?.ok !== true) throw new Error('not listed');
        await store?.deleteSession(session.id);
        Object.assign(window, { deleted: loaded.value });
      });
    await remove();
    // Another tab begins its visit while this one can still bring it back.
    const other = await browser.newPage();
    expect(await rows(other)).toEqual([1, 1]);
    await page.evaluate(async () => {
      const store = (await window.storageParts?.openSessionStore())?.store;
      await store?.importRecord(Reflect.get(window, 'deleted') as never);
    });
    await page.close();
    expect(await rows(other)).toEqual([1, 1]);

    page = await browser.newPage();
    await remove();
    await page.close();
    // The browser lets go of a closed tab's lock a moment after the tab is gone.
    await expect.poll(() => rows(other), { timeout: 20_000 }).toEqual([0, 0]);
    await other.close();
  });
});

describe('erasing a person', () => {
  it('takes reviews and videos of sessions deleted in this visit at once, leaves those of others, and gives all back', async () => {
    page = await browser.newPage();
    await care('empty');
    const reviews = await page.evaluate(async (review) => {
      const all = window.carePage;
      const opened = await window.storageParts?.openSessionStore();
      if (!all || !opened?.eraser) throw new Error('no page');
      const [theirs, others] = [crypto.randomUUID(), crypto.randomUUID()];
      await all.fill(theirs, review);
      const loaded = await opened.store.loadSession(theirs);
      const listed = await opened.plans.listPlans();
      const planId = listed.ok ? (listed.value[0]?.planId ?? '') : '';
      if (!loaded.ok) throw new Error(loaded.problem);
      const ofPlan = { planId, planVersion: 1, stageKey: 's', exerciseKey: 'e', dayId: crypto.randomUUID() };
      // One that followed the plan and one that followed none, each with its review; then both are deleted.
      await opened.store.deleteSession(theirs);
      const store = await opened.reviews();
      for (const [id, plan] of [
        [theirs, ofPlan],
        [others, null],
      ] as const) {
        await opened.store.importRecord({ ...loaded.value, id, plan });
        await store.keepReview({
          ...(review as never as Parameters<typeof store.keepReview>[0]),
          id,
          sessionId: id,
        });
        await opened.store.deleteSession(id);
      }
      const kept = async (): Promise<string[]> => {
        const found = await store.listReviews();
        return found.ok
          ? found.value.items.map(({ sessionId }) => (sessionId === theirs ? 'theirs' : 'others'))
          : [];
      };
      const before = await kept();
      const none = {
        decisions: [],
        days: [],
        sessions: [],
        reviews: [],
        videos: [],
        unreadable: 0,
        plans: [],
      };
      const eraser = await opened.eraser();
      const erased = await eraser.erase({ ...none, whose: { kind: 'plan', planId } });
      const after = await kept();
      const videos = await (await opened.videos?.())?.listVideos();
      if (erased.ok) await eraser.putBack(erased.value);
      const back = await kept();
      // The next visit's sweep knows both again.
      return { before, after, videos: videos?.ok === true ? videos.value.length : -1, back };
    }, REVIEW);
    expect(reviews.before.toSorted()).toEqual(['others', 'theirs', 'theirs']);
    expect(reviews.after).toEqual(['others']);
    expect(reviews.videos).toBe(0);
    expect(reviews.back.toSorted()).toEqual(reviews.before.toSorted());
    const other = await browser.newPage();
    await page.close();
    const left = (): Promise<number> =>
      other.evaluate(async () => {
        const opened = await window.storageParts?.openSessionStore();
        await opened?.sweep();
        const listed = await (await opened?.reviews())?.listReviews();
        return listed?.ok === true ? listed.value.items.length : -1;
      });
    await expect.poll(left, { timeout: 20_000 }).toBe(0);
    await other.close();
  });
});
