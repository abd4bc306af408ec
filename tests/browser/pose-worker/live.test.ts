import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { longestGapSeconds, openPoseWorkerPage } from '../../helpers/pose-worker-page.ts';
import { openSourceBrowser, type SourceBrowser } from '../../helpers/source-browser.ts';
import { FAKE_CAMERA } from '../ui-begin-live/open-app.ts';

let browser: SourceBrowser;
beforeAll(async () => {
  browser = await openSourceBrowser(FAKE_CAMERA);
});
afterAll(() => browser.close());

describe('a camera measured in a worker', () => {
  it('gives pictures in order with their timing, and says what computes', async () => {
    const page = await openPoseWorkerPage(browser);
    expect(await page.evaluate(() => window.poseWorkerPage.open('lite', 'any'))).toBe('ok');
    expect(await page.evaluate(() => window.poseWorkerPage.about())).toMatchObject({
      backend: 'cpu',
      identity: { model: 'blazepose-lite', runtime: expect.stringMatching(/CPU$/) },
    });
    const played = await page.evaluate(() => window.poseWorkerPage.live({ seconds: 3 }));
    expect(played.end).toEqual({ kind: 'stopped' });
    expect(played.seen.length).toBeGreaterThan(10);
    const times = played.seen.map(({ frame }) => frame.timeSeconds);
    expect(times).toEqual(times.toSorted((a, b) => a - b));
    for (const { timing } of played.seen) {
      expect(timing.workMs).toBeGreaterThanOrEqual(timing.networkMs ?? Infinity);
      expect(timing.latencyMs).not.toBeNull();
    }
    await page.close();
  });

  it('measures on while the page itself is busy: pictures do not pass through it', async () => {
    const page = await openPoseWorkerPage(browser);
    await page.evaluate(() => window.poseWorkerPage.open('lite', 'cpu'));
    const played = await page.evaluate(() =>
      window.poseWorkerPage.live({ seconds: 5, blockPageAt: { seconds: 1.5, forMs: 2000 } }),
    );
    expect(longestGapSeconds(played)).toBeLessThan(1);
    await page.close();
  });

  it('measures at most as many pictures as asked for', async () => {
    const page = await openPoseWorkerPage(browser);
    await page.evaluate(() => window.poseWorkerPage.open('lite', 'cpu'));
    const played = await page.evaluate(() => window.poseWorkerPage.live({ seconds: 4, stepSeconds: 0.2 }));
    expect(played.seen.length).toBeGreaterThanOrEqual(12);
    expect(played.seen.length).toBeLessThanOrEqual(21);
    await page.close();
  });

  it('takes pictures from a video element where the browser does not give the track', async () => {
    const page = await openPoseWorkerPage(browser);
    await page.evaluate(() => window.poseWorkerPage.open('lite', 'cpu'));
    const played = await page.evaluate(() =>
      window.poseWorkerPage.live({ seconds: 3, withoutTrackProcessor: true }),
    );
    expect(played.end).toEqual({ kind: 'stopped' });
    expect(played.seen.length).toBeGreaterThan(10);
    expect(played.seen.every(({ timing }) => timing.latencyMs !== null)).toBe(true);
    await page.close();
  });

  it('goes on with another size of network in the same run', async () => {
    const page = await openPoseWorkerPage(browser);
    await page.evaluate(() => window.poseWorkerPage.open('lite', 'cpu'));
    const played = await page.evaluate(() => window.poseWorkerPage.live({ seconds: 6, changeTo: 'full' }));
    expect(played.end).toEqual({ kind: 'stopped' });
    expect(await page.evaluate(() => window.poseWorkerPage.about().identity.model)).toBe('blazepose-full');
    await page.close();
  });
});
