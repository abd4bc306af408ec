import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SeenPicture } from '../../../src/core/pose/pose-service.ts';
import type { PictureTile } from '../../../src/core/pose/picture-tile.ts';
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

/** Her tile is the right half of the shared window. */
const HERS: PictureTile = {
  leftPx: 640,
  topPx: 0,
  widthPx: 640,
  heightPx: 480,
  ofWidthPx: 1280,
  ofHeightPx: 480,
  isMirrored: false,
};

/**
 * Largest distance of a joint from where it is found in the clip alone, pixels of 640. The pixels are the same; the first search
 * and the one that follows it put the network's square a little otherwise, and turned back from a mirror it is another look.
 */
const SAME_PX = 2;

let page: Page;
let alone: readonly Joint[];

interface Joint {
  readonly x: number;
  readonly y: number;
}

/** Measures a window that is shared anew. */
async function measured(
  shown: 'alone' | 'both' | 'both, hers in a mirror',
  tile: PictureTile | null,
): Promise<readonly SeenPicture[]> {
  await page.evaluate(([what, part]) => window.sharedTilePage.share(what, part), [shown, tile] as const);
  const seen = await page.evaluate(() => window.sharedTilePage.see(4, 10));
  await page.evaluate(() => window.sharedTilePage.stop());
  return seen;
}

/** Shoulder, elbow and wrist of the right arm and the right hip in the last picture. */
function joints(seen: readonly SeenPicture[]): readonly Joint[] {
  const image = seen.at(-1)?.frame.pose?.image;
  return [12, 14, 16, 24].map((index) => {
    const point = image?.[index];
    if (point === undefined) throw new Error('nobody was found');
    return { x: point.x, y: point.y };
  });
}

function furthestPx(one: readonly Joint[], other: readonly Joint[]): number {
  return Math.max(
    ...one.map(({ x, y }, index) => Math.hypot(x - (other[index]?.x ?? NaN), y - (other[index]?.y ?? NaN))),
  );
}

describe('one tile of a shared window', () => {
  beforeAll(async () => {
    page = await browser.openPage('/tests/browser/pose-worker/shared-tile-page.ts');
    await page.waitForFunction(() => 'sharedTilePage' in window);
    await page.evaluate(() => window.sharedTilePage.open());
    alone = joints(await measured('alone', null));
  });
  afterAll(() => page.close());

  it('is measured as its picture alone, and nobody else in the window', async () => {
    const seen = await measured('both', HERS);
    for (const { frame } of seen) expect([frame.widthPx, frame.heightPx]).toEqual([640, 480]);
    expect(seen.at(-1)?.frame.people).toBe(1);
    expect(furthestPx(joints(seen), alone)).toBeLessThan(SAME_PX);
    const other = await measured('both', { ...HERS, leftPx: 0 });
    expect(furthestPx(joints(other), alone)).toBeGreaterThan(4 * SAME_PX);
  });

  it('is turned back where it is shown as in a mirror: left stays the person’s left', async () => {
    const seen = await measured('both, hers in a mirror', { ...HERS, isMirrored: true });
    expect(furthestPx(joints(seen), alone)).toBeLessThan(SAME_PX);
  });

  it('gives nothing while it stands still, whatever moves beside it, and goes on by itself', async () => {
    await page.evaluate((tile) => window.sharedTilePage.share('both', tile), HERS);
    await page.evaluate(() => window.sharedTilePage.see(2, 10));
    await page.evaluate(() => window.sharedTilePage.freeze(true));
    // One more may have been on its way, and the one in which the lamp went out.
    const still = await page.evaluate(() => window.sharedTilePage.see(99, 0.8));
    expect(still.length).toBeLessThanOrEqual(3);
    await page.evaluate(() => window.sharedTilePage.freeze(false));
    expect(await page.evaluate(() => window.sharedTilePage.see(3, 10))).toHaveLength(3);
  });

  it('is not measured in a window of another size, is again once framed anew, and ends with the sharing', async () => {
    await page.evaluate(() => window.sharedTilePage.resize(1280, 560));
    const isOff = async (): Promise<boolean> =>
      (await page.evaluate(() => window.sharedTilePage.see(4, 10))).at(-1)?.isTileOff === true;
    await expect.poll(isOff).toBe(true);
    const [off] = await page.evaluate(() => window.sharedTilePage.see(1, 10));
    expect(off?.frame).toMatchObject({ pose: null, people: null, widthPx: 640, heightPx: 480 });
    await page.evaluate((tile) => window.sharedTilePage.frame(tile), { ...HERS, ofHeightPx: 560 });
    await expect.poll(isOff).toBe(false);
    const seen = await page.evaluate(() => window.sharedTilePage.see(2, 10));
    expect(furthestPx(joints(seen), alone)).toBeLessThan(SAME_PX);
    expect(await page.evaluate(() => window.sharedTilePage.endByBar())).toEqual({
      kind: 'failed',
      problem: 'sharing-ended',
    });
  });
});
