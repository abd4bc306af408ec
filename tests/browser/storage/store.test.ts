import { randomUUID } from 'node:crypto';
import type { CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { StorageBrowser } from './storage-browser.ts';

let browser: StorageBrowser;

beforeAll(async () => {
  browser = await StorageBrowser.open();
});
afterAll(() => browser.close());

/** A page on which something is done, closed afterwards. */
async function onPage<Result>(act: (page: Page) => Promise<Result>, where = browser): Promise<Result> {
  const page = await where.newPage();
  try {
    return await act(page);
  } finally {
    await page.close();
  }
}

describe('session records in the browser', () => {
  it('are listed, loaded, deleted and taken in again as they were', async () => {
    const result = await onPage((page) =>
      page.evaluate(async (id) => {
        const [storage, parts] = [window.storagePage, window.storageParts];
        if (!storage || !parts) throw new Error('no page');
        await storage.recordFast(id, 6);
        const { store } = await parts.openSessionStore();
        const listed = await store.listSessions();
        const loaded = await store.loadSession(id);
        if (!listed.ok || !loaded.ok) throw new Error('not kept');
        const twice = await store.importRecord(loaded.value);
        await store.deleteSession(id);
        const gone = await store.loadSession(id);
        const lateAnswer = await store.answerSet(
          { sessionId: id, setIndex: 0 },
          { painBefore: 1, painAfter: 1, effortAfterHolds: [], effort: null, hardest: null },
        );
        await store.importRecord(loaded.value);
        const back = await store.loadSession(id);
        const [first] = loaded.value.sets;
        if (!first) throw new Error('no set');
        const goneOn = { ...loaded.value, sets: [first, first] };
        await store.renewRecord(goneOn);
        const renewed = await store.loadSession(id);
        return {
          isRenewed: renewed.ok && JSON.stringify(renewed.value) === JSON.stringify(goneOn),
          lasts: store.lasts,
          states: listed.value.map(({ state }) => state),
          repetitions: listed.value[0]?.whole.repetitions,
          frames: loaded.value.sets[0]?.frames.frameCount,
          twice: twice.ok ? 'kept' : twice.problem,
          gone: gone.ok ? 'kept' : gone.problem,
          lateAnswer: lateAnswer.ok ? 'kept' : lateAnswer.problem,
          isSame: back.ok && JSON.stringify(back.value) === JSON.stringify(loaded.value),
        };
      }, randomUUID()),
    );
    expect(result).toEqual({
      lasts: 'on-this-machine',
      states: ['finished'],
      repetitions: 2,
      frames: 180,
      twice: 'already-kept',
      gone: 'missing',
      lateAnswer: 'missing',
      isSame: true,
      isRenewed: true,
    });
  });

  it('leave nothing behind when they are deleted', async () => {
    const rows = await onPage((page) =>
      page.evaluate(async (id) => {
        const [storage, parts] = [window.storagePage, window.storageParts];
        if (!storage || !parts) throw new Error('no page');
        await storage.recordFast(id, 2);
        const { store } = await parts.openSessionStore();
        const all = await store.listSessions();
        if (!all.ok) throw new Error(all.detail);
        for (const { id } of all.value) await store.deleteSession(id);
        const db = new parts.SessionDatabase();
        return [await db.sessions.count(), await db.sets.count(), await db.pieces.count()];
      }, randomUUID()),
    );
    expect(rows).toEqual([0, 0, 0]);
  });

  it('tell a session that is recorded in another tab from one that broke off', async () => {
    const id = randomUUID();
    const recording = await browser.newPage();
    await recording.evaluate((sessionId) => window.storagePage?.recordForEver(sessionId, 60), id);
    const seen = await onPage(async (other) => {
      const states: (string | undefined)[] = [];
      const look = async (): Promise<void> => {
        states.push((await other.evaluate((it) => window.storagePage?.inspect(it), id))?.state);
      };
      await recording.waitForTimeout(1500);
      await look();
      await recording.close();
      // The browser lets go of a closed tab's lock a moment after the tab is gone.
      await other.waitForFunction(
        async (it) => (await window.storagePage?.inspect(it))?.state !== 'recording',
        id,
        { polling: 200 },
      );
      await look();
      const unfinished = await other.evaluate(async () => {
        const opened = await window.storageParts?.openSessionStore();
        const found = await opened?.store.unfinished();
        return found?.ok === true ? found.value.map((it) => [it.id, it.cutOffSeconds]) : null;
      });
      await other.evaluate((it) => window.storagePage?.finish(it), id);
      await look();
      return { states, unfinished };
    });
    expect(seen.states).toEqual(['recording', 'unfinished', 'finished']);
    expect(seen.unfinished).toEqual([[id, expect.any(Number)]]);
    expect(seen.unfinished?.[0]?.[1]).toBeGreaterThan(0.4);
  });

  it('are still written after the browser lost its connection to the database', async () => {
    const result = await onPage((page) =>
      page.evaluate(async (id) => {
        const parts = window.storageParts;
        if (!parts) throw new Error('no page');
        const db = new parts.SessionDatabase();
        await db.open();
        const problems: unknown[] = [];
        const recorder = new parts.SessionRecorder({
          store: new parts.IdbSessionStore(db),
          header: parts.headerFor(id),
          nowSeconds: () => performance.now() / 1000,
          onProblem: (problem) => problems.push(problem),
        });
        recorder.beginSet({ startedAt: new Date().toISOString(), painBefore: null });
        for (const [index, frame] of parts.film(4).entries()) {
          recorder.addFrame(frame);
          if (index !== 60) continue;
          await recorder.flush();
          db.close();
        }
        await recorder.finish();
        const facts = await window.storagePage?.inspect(id);
        return { problems, frames: facts?.sets.map(({ frames }) => frames), state: facts?.state };
      }, randomUUID()),
    );
    expect(result).toEqual({ problems: [], frames: [120], state: 'finished' });
  });

  it('say so when what is kept is no session any more, and can still be deleted', async () => {
    const result = await onPage((page) =>
      page.evaluate(async (id) => {
        const [storage, parts] = [window.storagePage, window.storageParts];
        if (!storage || !parts) throw new Error('no page');
        await storage.recordFast(id, 2);
        const db = new parts.SessionDatabase();
        await db.pieces.where(':id').between([id, 0, 1], [id, 0, 1], true, true).delete();
        const [first] = await db.pieces.where(':id').between([id, 0, 0], [id, 0, 0], true, true).toArray();
        if (first === undefined) throw new Error('no piece');
        await db.pieces.put({ ...first, frames: { ...first.frames, frameCount: 999, timeTenthMs: [] } });
        const { store } = await parts.openSessionStore();
        const loaded = await store.loadSession(id);
        const deleted = await store.deleteSession(id);
        return [loaded.ok ? 'read' : loaded.problem, deleted.ok];
      }, randomUUID()),
    );
    expect(result).toEqual(['unreadable', true]);
  });

  it('tell how much room they take', async () => {
    const usage = await onPage((page) =>
      page.evaluate(async () => (await window.storageParts?.openSessionStore())?.store.usage()),
    );
    expect(usage).toEqual({
      ok: true,
      value: {
        usedBytes: expect.any(Number),
        roomBytes: expect.any(Number),
        protectedFromClearing: expect.any(Boolean),
      },
    });
  });
});

describe('when the storage is full', () => {
  // Chromium remembers for half a minute how much room an origin had: this one must not have been asked before.
  let fresh: StorageBrowser;
  beforeAll(async () => {
    fresh = await StorageBrowser.open();
  });
  afterAll(() => fresh.close());

  const setQuota = (session: CDPSession, quotaSize?: number): Promise<unknown> =>
    session.send('Storage.overrideQuotaForOrigin', {
      origin: fresh.origin,
      ...(quotaSize === undefined ? {} : { quotaSize }),
    });

  it('nothing is lost, it is said, and it is written when there is room again', async () => {
    const result = await onPage(async (page) => {
      const session = await page.context().newCDPSession(page);
      const used = await page.evaluate(async () => (await navigator.storage.estimate()).usage ?? 0);
      await setQuota(session, used + 60_000);
      const full = await page.evaluate(async (id) => {
        const parts = window.storageParts;
        if (!parts) throw new Error('no page');
        const { store } = await parts.openSessionStore();
        const problems: unknown[] = [];
        const recorder = new parts.SessionRecorder({
          store,
          header: parts.headerFor(id),
          nowSeconds: () => performance.now() / 1000,
          onProblem: (problem) => problems.push(problem),
        });
        Object.assign(window, { recorder, problems });
        recorder.beginSet({ startedAt: new Date().toISOString(), painBefore: null });
        for (const [index, frame] of parts.film(30).entries()) {
          recorder.addFrame(frame);
          if (index % 30 === 0) await recorder.flush();
        }
        await recorder.finish();
        return {
          problems: [...problems],
          inMemory: (await recorder.record()).sets[0]?.frames.frameCount,
          unsavedSeconds: recorder.unsavedSeconds,
        };
      }, randomUUID());
      await setQuota(session);
      const after = await page.evaluate(async () => {
        // Put there above, in this same page.
        const kept = window as never as {
          recorder: { flush(): Promise<void>; unsavedSeconds: number; record(): Promise<{ id: string }> };
          problems: unknown[];
        };
        await kept.recorder.flush();
        const facts = await window.storagePage?.inspect((await kept.recorder.record()).id);
        return {
          problems: kept.problems,
          unsavedSeconds: kept.recorder.unsavedSeconds,
          frames: facts?.sets.map(({ frames }) => frames),
        };
      });
      return { full, after };
    }, fresh);
    expect(result.full.problems).toEqual(['full']);
    expect(result.full.inMemory).toBe(900);
    expect(result.full.unsavedSeconds).toBeGreaterThan(1);
    expect(result.after).toEqual({ problems: ['full', null], unsavedSeconds: 0, frames: [900] });
  });
});

describe('when the browser lets the page keep nothing', () => {
  it('records for the visit, says so, and the record can be taken along', async () => {
    // The setting that a person makes to block all site data (2: block).
    const blocked = await StorageBrowser.open({
      profile: { default_content_setting_values: { cookies: 2 } },
    });
    const page = await blocked.newPage();
    const result = await page.evaluate(async (id) => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const { store, problem } = await parts.openSessionStore();
      const recorder = new parts.SessionRecorder({
        store,
        header: parts.headerFor(id),
        nowSeconds: () => performance.now() / 1000,
      });
      recorder.beginSet({ startedAt: new Date().toISOString(), painBefore: null });
      for (const frame of parts.film(6)) recorder.addFrame(frame);
      await recorder.finish();
      const listed = await store.listSessions();
      return {
        problem,
        lasts: store.lasts,
        writing: recorder.problem,
        repetitions: listed.ok ? listed.value[0]?.whole.repetitions : null,
        frames: (await recorder.record()).sets[0]?.frames.frameCount,
      };
    }, randomUUID());
    await blocked.close();
    expect(result).toEqual({
      problem: 'forbidden',
      lasts: 'this-visit',
      writing: null,
      repetitions: 2,
      frames: 180,
    });
  });
});
