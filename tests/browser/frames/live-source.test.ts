import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fakeCameraArgs, writeFakeCamera } from '../../helpers/fake-camera.ts';
import { openSourceBrowser, type SourceBrowser } from '../../helpers/source-browser.ts';

const MODULE = '/tests/browser/frames/in-page.ts';
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'forearmed-test-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('a camera as a source', () => {
  let browser: SourceBrowser;
  let page: Page;
  let passSeconds: number;

  beforeAll(async () => {
    // The camera's film: two seconds, red in the top left quarter.
    const maker = await openSourceBrowser();
    const clip = join(folder, 'clip.mp4');
    const mjpeg = join(folder, 'camera.mjpeg');
    try {
      const making = await maker.openPage(MODULE);
      const timesSeconds = Array.from({ length: 60 }, (_, index) => index / 30);
      const base64 = await making.evaluate((plan) => window.framesPage.makeClip(plan), {
        container: 'mp4' as const,
        width: 320,
        height: 240,
        timesSeconds,
      });
      await writeFile(clip, Buffer.from(base64, 'base64'));
    } finally {
      await maker.close();
    }
    passSeconds = await writeFakeCamera(clip, mjpeg);
    browser = await openSourceBrowser(fakeCameraArgs(mjpeg));
    page = await browser.openPage(MODULE);
  });
  afterAll(() => browser.close());

  it('films the whole clip for the fake camera', () => {
    expect(passSeconds).toBeCloseTo(2, 1);
  });

  it('is listed with its name and opened by its id', async () => {
    const cameras = await page.evaluate(() => window.framesPage.listCameras());
    expect(cameras).toHaveLength(1);
    expect(cameras[0]?.label).not.toBe('');
    const played = await page.evaluate(
      (id) => window.framesPage.playCamera(id, { pictures: 3 }),
      cameras[0]?.id ?? '',
    );
    expect(played).toMatchObject({ problem: null, end: { kind: 'stopped' } });
    expect(played.timesSeconds).toHaveLength(3);
  });

  it.each(['straight from the track', 'through a video element'])(
    'gives pictures with rising times at the rate of the camera, %s',
    async (way) => {
      const played = await page.evaluate((asked) => window.framesPage.playCamera(null, asked), {
        pictures: 40,
        withoutTrackProcessor: way === 'through a video element',
      });
      expect(played.size).toEqual([320, 240]);
      const steps = played.timesSeconds
        .slice(1)
        .map((time, index) => time - (played.timesSeconds[index] ?? 0));
      expect(Math.min(...steps)).toBeGreaterThan(0);
      const [red = 0, green = 0, blue = 0] = played.corners?.topLeft ?? [];
      expect(red - Math.max(green, blue)).toBeGreaterThan(100);
    },
  );

  it.each([false, true])(
    'drops pictures while the consumer is busy and never queues them (through a video element: %s)',
    async (withoutTrackProcessor) => {
      const played = await page.evaluate((asked) => window.framesPage.playCamera(null, asked), {
        pictures: 8,
        busyMs: 400,
        withoutTrackProcessor,
      });
      // Eight pictures 0.4 s apart: a queue would hand on pictures 1/30 s apart.
      const [first = 0] = played.timesSeconds;
      expect((played.timesSeconds.at(-1) ?? 0) - first).toBeGreaterThan(2);
    },
  );

  it('ends with a problem when the camera is unplugged during a set', async () => {
    const played = await page.evaluate(() =>
      window.framesPage.playCamera(null, { pictures: 1000, unplugAfter: 5 }),
    );
    expect(played.end).toEqual({ kind: 'failed', problem: 'camera-unplugged' });
    expect(played.timesSeconds.length).toBeGreaterThanOrEqual(5);
  });

  it('gives the camera back when it was stopped', async () => {
    expect(await page.evaluate(() => window.framesPage.tracksAfterStop())).toEqual(['ended']);
  });

  it('says that there is no such camera for an id that is gone', async () => {
    const played = await page.evaluate(() => window.framesPage.playCamera('gone', { pictures: 1 }));
    expect(played.problem).toBe('no-camera');
  });
});

describe('a camera that cannot be had', () => {
  it('is missing on a machine without one', async () => {
    const browser = await openSourceBrowser([
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream=device-count=0',
    ]);
    try {
      const page = await browser.openPage(MODULE);
      expect(await page.evaluate(() => window.framesPage.listCameras())).toEqual([]);
      const played = await page.evaluate(() => window.framesPage.playCamera(null, { pictures: 1 }));
      expect(played.problem).toBe('no-camera');
    } finally {
      await browser.close();
    }
  });

  it('is refused where its use is forbidden', async () => {
    const browser = await openSourceBrowser([
      '--use-fake-device-for-media-stream',
      '--deny-permission-prompts',
    ]);
    try {
      const page = await browser.openPage(MODULE);
      const played = await page.evaluate(() => window.framesPage.playCamera(null, { pictures: 1 }));
      expect(played.problem).toBe('permission-refused');
    } finally {
      await browser.close();
    }
  });
});

describe('a shared window as a source', () => {
  it('gives pictures, and ends with a problem when the sharing ends', async () => {
    const browser = await openSourceBrowser([
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
    ]);
    try {
      const page = await browser.openPage(MODULE);
      const played = await page.evaluate(() =>
        window.framesPage.playSharedWindow({ pictures: 1000, unplugAfter: 2 }),
      );
      expect(played.problem).toBeNull();
      expect(played.end).toEqual({ kind: 'failed', problem: 'sharing-ended' });
    } finally {
      await browser.close();
    }
  });

  it('is refused when nothing was chosen', async () => {
    const browser = await openSourceBrowser(['--use-fake-ui-for-media-stream=deny']);
    try {
      const page = await browser.openPage(MODULE);
      const played = await page.evaluate(() => window.framesPage.playSharedWindow({ pictures: 1 }));
      expect(played.problem).toBe('sharing-refused');
    } finally {
      await browser.close();
    }
  });
});
