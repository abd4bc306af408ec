import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openSourceBrowser, type SourceBrowser } from '../../helpers/source-browser.ts';
import type { ClipPlan } from '../../browser/frames/make-clip.ts';
import type { ClipPlay, ClipPlayed } from './in-page.ts';

/** Four segments of five seconds, the last one short. */
const CLIP_SECONDS = 16;
const RATE_HZ = 2;

let browser: SourceBrowser;
let page: Page;
let clip: Buffer;
/** The clip measured by one worker. */
let alone: ClipPlayed;

const measure = (play: ClipPlay): Promise<ClipPlayed> =>
  page.evaluate((asked) => window.poseClipsPage.measure(asked), play);
const play = (bytes: Buffer, workers: number, more: Partial<ClipPlay> = {}): ClipPlay => ({
  from: { base64: bytes.toString('base64') },
  workers,
  rateHz: RATE_HZ,
  ...more,
});
const make = async (plan: ClipPlan): Promise<Buffer> =>
  Buffer.from(await page.evaluate((asked) => window.poseClipsPage.makeClip(asked), plan), 'base64');

beforeAll(async () => {
  browser = await openSourceBrowser();
  page = await browser.openPage('/tests/campaign/pose-clips/in-page.ts');
  await page.waitForFunction(() => Reflect.has(window, 'poseClipsPage'));
  const base64 = await page.evaluate(
    (seconds) => window.poseClipsPage.cutClip('/demo-clips/free-curl-mirror.mp4', seconds),
    CLIP_SECONDS,
  );
  clip = Buffer.from(base64, 'base64');
  alone = await measure(play(clip, 1));
});
afterAll(() => browser.close());

describe('a clip measured by workers', () => {
  it('is measured at the rate asked for, in order, with progress and pictures to look at', () => {
    expect(alone.end).toEqual({ kind: 'finished' });
    expect(alone.frames).toHaveLength(CLIP_SECONDS * RATE_HZ);
    alone.frames.forEach(({ timeSeconds }, index) => expect(timeSeconds).toBeCloseTo(index / RATE_HZ, 1));
    expect(alone.frames.filter(({ pose }) => pose !== null).length).toBeGreaterThan(
      CLIP_SECONDS * RATE_HZ * 0.9,
    );
    const looked = alone.frames.filter(({ brightness }) => brightness !== null);
    expect(looked.map(({ timeSeconds }) => Math.round(timeSeconds))).toEqual(
      Array.from({ length: CLIP_SECONDS }, (_, second) => second),
    );
    expect(alone.shares.toSorted((a, b) => a - b)).toEqual(alone.shares);
    expect(alone.shares.at(-1)).toBe(1);
    expect(alone.pictures.length).toBeGreaterThan(1);
    for (const size of alone.pictures) expect(size).toEqual([640, 480]);
    expect(alone.arePicturesKept).toBe(true);
  });

  it.each([2, 3])('gives the very same frames when %i workers share it', async (workers) => {
    // The first time a further worker may be ready only when the clip is over.
    await measure(play(clip, workers));
    const shared = await measure(play(clip, workers));
    expect(shared.workersUsed).toBeGreaterThan(1);
    expect(shared.end).toEqual({ kind: 'finished' });
    expect(shared.frames).toEqual(alone.frames);
    expect(shared.shares.toSorted((a, b) => a - b)).toEqual(shared.shares);
  });

  it('gives the same frames beside another clip', async () => {
    const short = await make({ container: 'webm', width: 160, height: 96, timesSeconds: [0, 0.5, 1] });
    const both = await page.evaluate(([one, other]) => window.poseClipsPage.measureTwo(one, other), [
      play(clip, 2),
      play(short, 2),
    ] as const);
    expect(both[0].frames).toEqual(alone.frames);
    expect(both[1].frames.map(({ pose }) => pose)).toEqual([null, null, null]);
  });

  it('is turned upright as its file says', async () => {
    const timesSeconds = Array.from({ length: 8 }, (_, index) => index / 4);
    const grey = { container: 'mp4', width: 160, height: 96, timesSeconds, grey: 100 } as const;
    for (const [rotation, corner] of [
      [0, 0] as const,
      [90, 1] as const,
      [180, 2] as const,
      [270, 3] as const,
    ]) {
      const { frames, corners } = await measure(play(await make({ ...grey, rotation }), 1));
      const [first] = frames;
      const size = rotation % 180 === 0 ? [160, 96] : [96, 160];
      expect([first?.widthPx, first?.heightPx]).toEqual(size);
      // A quarter is red: 0.75 * 100 + 0.25 * 0.299 * 255 = 94.
      expect(first?.brightness).toBeCloseTo(94, -1);
      expect(corners.findIndex(([red = 0, green = 0]) => red > 180 && green < 80)).toBe(corner);
    }
  });

  it('ends at once when asked, and keeps what was handed over', async () => {
    const stopped = await measure(play(clip, 2, { stopAfter: 7 }));
    expect(stopped.end).toEqual({ kind: 'stopped' });
    expect(stopped.frames).toEqual(alone.frames.slice(0, 7));
    // What was under way does not get into the next one.
    expect((await measure(play(clip, 2))).frames).toEqual(alone.frames);
  });
});

describe('a clip with a fault', () => {
  /** Where the pictures' data begin and end in the file. */
  const at = (share: number): number => {
    const data = clip.indexOf('mdat') + 4;
    const size = clip.readUInt32BE(data - 8);
    return Math.floor(data + (size - 8) * share);
  };

  it.each([
    ['breaks off', () => clip.subarray(0, Math.floor(clip.length * 0.6))],
    ['breaks off near its end', () => clip.subarray(0, Math.floor(clip.length * 0.95))],
    [
      'has a hole',
      () => Buffer.concat([clip.subarray(0, at(0.5)), Buffer.alloc(4000), clip.subarray(at(0.5) + 4000)]),
    ],
  ])('is measured to the fault, by however many workers: it %s', async (_, broken) => {
    const whole = await measure(play(broken(), 1));
    expect(whole.end).toEqual({ kind: 'failed', problem: 'clip-damaged' });
    expect(whole.frames.length).toBeGreaterThan(10);
    expect(whole.frames).toEqual(alone.frames.slice(0, whole.frames.length));
    for (const workers of [2, 3]) {
      const shared = await measure(play(broken(), workers));
      expect(shared.end).toEqual(whole.end);
      expect(shared.frames).toEqual(whole.frames);
    }
  });
});

describe('a worker that breaks down', () => {
  it('without a word is replaced, and the frames are the same', async () => {
    const killed = { workers: 1, isSilent: true };
    const played = await measure(play(clip, 2, { killed }));
    expect(played.end).toEqual({ kind: 'finished' });
    expect(played.frames).toEqual(alone.frames);
  });

  it('three times over one clip ends it', async () => {
    const killed = { workers: 3, isSilent: false };
    const played = await measure(play(clip, 1, { killed }));
    expect(played.error).toMatch(/^failed: Workers broke down/);
    expect(played.frames).toEqual(alone.frames.slice(0, played.frames.length));
  });

  it('starts the clip afresh when its graphics processor is lost before anything was handed over', async () => {
    const played = await measure(play(clip, 2, { gpuLostAt: 'clip-opened' }));
    expect(played.end).toEqual({ kind: 'finished' });
    expect(played.frames).toEqual(alone.frames);
  });

  it('ends the clip when its graphics processor is lost later: two kinds of arithmetic do not mix', async () => {
    const played = await measure(play(clip, 2, { gpuLostAt: 'segment-done' }));
    expect(played.error).toContain('graphics processor was lost');
  });
});

it('closes every video frame', async () => {
  const { made, open } = await page.evaluate(() => window.poseClipsPage.countFrames());
  expect(made).toBeGreaterThan(1000);
  expect(open).toBe(0);
});
