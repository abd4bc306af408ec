import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { longestGapSeconds, openPoseWorkerPage } from '../../helpers/pose-worker-page.ts';
import { openSourceBrowser, type SourceBrowser } from '../../helpers/source-browser.ts';
import { FAKE_CAMERA } from '../../browser/ui-begin-live/open-app.ts';

let browser: SourceBrowser;
beforeAll(async () => {
  browser = await openSourceBrowser(FAKE_CAMERA);
});
afterAll(() => browser.close());

describe('a worker that breaks down', () => {
  it.each([
    ['ends', 'self.close()'],
    ['hangs', 'setTimeout(() => { for (;;); })'],
  ])('%s: another one goes on with the same camera', async (_how, harm) => {
    const page = await openPoseWorkerPage(browser);
    await page.evaluate(() => window.poseWorkerPage.open('lite', 'cpu'));
    const playing = page.evaluate(() => window.poseWorkerPage.live({ seconds: 17 }));
    await page.waitForTimeout(2000);
    await page.workers()[0]?.evaluate(harm);
    const played = await playing;
    expect(played.end).toEqual({ kind: 'stopped' });
    const gap = longestGapSeconds(played);
    expect(gap).toBeGreaterThan(1);
    expect(gap).toBeLessThan(15);
    const last = played.seen.at(-1)?.frame.timeSeconds ?? 0;
    const first = played.seen[0]?.frame.timeSeconds ?? 0;
    expect(last - first).toBeGreaterThan(15);
    await page.close();
  });

  it('goes on with the processor when the graphics processor is lost', async () => {
    // A processor that imitates a graphics processor: slow, and lost in the same way.
    const args = ['--enable-unsafe-webgpu', '--use-webgpu-adapter=swiftshader'];
    const software = await openSourceBrowser([...FAKE_CAMERA, ...args]);
    try {
      const page = await openPoseWorkerPage(software);
      expect(await page.evaluate(() => window.poseWorkerPage.open('lite', 'gpu-even-software'))).toBe('ok');
      expect(await page.evaluate(() => window.poseWorkerPage.about().backend)).toBe('gpu');
      const playing = page.evaluate(() => window.poseWorkerPage.live({ seconds: 12 }));
      await page.waitForTimeout(3000);
      const devtools = await software.browser.newBrowserCDPSession();
      await devtools.send('Browser.crashGpuProcess');
      const played = await playing;
      expect(played.end).toEqual({ kind: 'stopped' });
      expect(played.seen.length).toBeGreaterThan(20);
      expect(await page.evaluate(() => window.poseWorkerPage.about().backend)).toBe('cpu');
    } finally {
      await software.close();
    }
  });
});
