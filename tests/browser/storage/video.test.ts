import { randomUUID } from 'node:crypto';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { StorageBrowser } from './storage-browser.ts';

/* Videos of sets, recorded from a drawn canvas by the browser's own recorder into its own database. */

let browser: StorageBrowser;

beforeAll(async () => {
  browser = await StorageBrowser.open();
});
afterAll(() => browser.close());

/** Records a canvas for so long and appends its bytes as they come; the last second is left where isCutOff. */
function record(page: Page, sessionId: string, seconds: number, isCutOff: boolean): Promise<string[]> {
  return page.evaluate(
    async ([id, length, isCut]) => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const store = await (await parts.openSessionStore()).videos?.();
      if (!store) throw new Error('no store of videos');
      const canvas = document.createElement('canvas');
      Object.assign(canvas, { width: 160, height: 120 });
      const pen = canvas.getContext('2d');
      const drawing = setInterval(() => {
        if (pen === null) return;
        pen.fillStyle = `hsl(${String(performance.now() % 360)} 80% 50%)`;
        pen.fillRect(0, 0, 160, 120);
      }, 40);
      const place = { sessionId: id, setIndex: 0 };
      const problems: string[] = [];
      let chunkIndex = 0;
      let written: Promise<unknown> = Promise.resolve();
      const recording = parts.recordStream(canvas.captureStream(25), (bytes) => {
        const index = chunkIndex++;
        written = written.then(async () => {
          const stored = await store.appendChunk(place, index, await bytes.arrayBuffer());
          if (!stored.ok) problems.push(stored.problem);
        });
      });
      if (recording === null) throw new Error('cannot record');
      await store.beginVideo(place, { mimeType: recording.mimeType, startSeconds: 12.5 });
      await new Promise((resolve) => setTimeout(resolve, length * 1000));
      if (!isCut) {
        await recording.stop();
        await written;
        await store.endVideo(place);
        clearInterval(drawing);
      }
      return problems;
    },
    [sessionId, seconds, isCutOff] as const,
  );
}

/** What a page finds of a kept video: its row, and how long it plays once every moment of it can be gone to. */
function found(page: Page, sessionId: string) {
  return page.evaluate(async (id) => {
    const parts = window.storageParts;
    const store = await (await parts?.openSessionStore())?.videos?.();
    if (!parts || !store) throw new Error('no page');
    const listed = await store.listVideos(id);
    const loaded = await store.loadVideo({ sessionId: id, setIndex: 0 });
    if (!listed.ok || !loaded.ok) return { rows: listed.ok ? listed.value : [], bytes: 0, seconds: 0 };
    const video = document.createElement('video');
    video.src = URL.createObjectURL(await parts.makeSeekable(loaded.value));
    await new Promise((resolve, reject) => {
      video.onloadedmetadata = resolve;
      video.onerror = reject;
    });
    return { rows: listed.value, bytes: loaded.value.size, seconds: video.duration };
  }, sessionId);
}

describe('the video of a set', () => {
  it('is kept with its size, plays from moment to moment, and is deleted', async () => {
    const id = randomUUID();
    const page = await browser.newPage();
    expect(await record(page, id, 3, false)).toEqual([]);
    const { rows, bytes, seconds } = await found(page, id);
    expect(rows).toMatchObject([{ sessionId: id, setIndex: 0, startSeconds: 12.5, isEnded: true, bytes }]);
    expect(bytes).toBeGreaterThan(1000);
    expect(seconds).toBeGreaterThan(2);
    expect(seconds).toBeLessThan(4);
    await page.evaluate(async (sessionId) => {
      const store = await (await window.storageParts?.openSessionStore())?.videos?.();
      await store?.deleteVideo({ sessionId, setIndex: 0 });
    }, id);
    expect(await found(page, id)).toEqual({ rows: [], bytes: 0, seconds: 0 });
    await page.close();
  });

  it('that was cut off by a crash plays what came until then', async () => {
    const id = randomUUID();
    const page = await browser.newPage();
    await record(page, id, 3.5, true);
    await browser.killBrowser();
    const after = await browser.newPage();
    const { rows, seconds } = await found(after, id);
    expect(rows).toMatchObject([{ isEnded: false }]);
    expect(seconds).toBeGreaterThan(1);
    await after.close();
  });

  it('goes when its session is kept no longer and a visit begins, and stays while the session is', async () => {
    const [kept, deleted] = [randomUUID(), randomUUID()];
    const page = await browser.newPage();
    const left = await page.evaluate(
      async ([keptId, deletedId]) => {
        const opened = await window.storageParts?.openSessionStore();
        const videos = await opened?.videos?.();
        if (!opened || !videos) throw new Error('no page');
        await window.storagePage?.recordFast(keptId, 2);
        for (const sessionId of [keptId, deletedId])
          await videos.beginVideo({ sessionId, setIndex: 0 }, { mimeType: 'video/webm', startSeconds: 0 });
        await opened.sweep();
        const listed = await videos.listVideos();
        return listed.ok ? listed.value.map(({ sessionId }) => sessionId) : [];
      },
      [kept, deleted] as const,
    );
    expect(left).toContain(kept);
    expect(left).not.toContain(deleted);
    await page.close();
  });

  it('ends where there is no room left, and what was kept of it stays', async () => {
    const fresh = await StorageBrowser.open();
    const id = randomUUID();
    const page = await fresh.newPage();
    const session = await page.context().newCDPSession(page);
    const used = await page.evaluate(async () => (await navigator.storage.estimate()).usage ?? 0);
    await session.send('Storage.overrideQuotaForOrigin', { origin: fresh.origin, quotaSize: used + 100_000 });
    const { problem, chunks } = await page.evaluate(async (sessionId) => {
      const store = await (await window.storageParts?.openSessionStore())?.videos?.();
      if (!store) throw new Error('no page');
      const place = { sessionId, setIndex: 0 };
      await store.beginVideo(place, { mimeType: 'video/webm', startSeconds: 0 });
      for (let index = 0; index < 40; index++) {
        const stored = await store.appendChunk(place, index, new ArrayBuffer(50_000));
        if (!stored.ok) return { problem: stored.problem, chunks: index };
      }
      return { problem: null, chunks: 40 };
    }, id);
    expect(problem).toBe('full');
    await session.send('Storage.overrideQuotaForOrigin', { origin: fresh.origin });
    const bytes = await page.evaluate(async (sessionId) => {
      const store = await (await window.storageParts?.openSessionStore())?.videos?.();
      const loaded = await store?.loadVideo({ sessionId, setIndex: 0 });
      return loaded?.ok === true ? loaded.value.size : -1;
    }, id);
    expect(bytes).toBe(chunks * 50_000);
    await fresh.close();
  });
});
