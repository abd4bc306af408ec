import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { openSourceBrowser, type SourceBrowser } from '../../helpers/source-browser.ts';
import type { Played } from './in-page.ts';
import type { ClipPlan } from './make-clip.ts';

let browser: SourceBrowser;
let page: Page;

beforeAll(async () => {
  browser = await openSourceBrowser();
  page = await browser.openPage('/tests/browser/frames/in-page.ts');
});
afterAll(() => browser.close());

/** Bytes cross into the page as base64. */
function play(bytes: Uint8Array | Buffer, stopAfter = Number.POSITIVE_INFINITY): Promise<Played> {
  return page.evaluate(([base64, pictures]) => window.framesPage.playClip(base64, pictures), [
    Buffer.from(bytes).toString('base64'),
    stopAfter,
  ] as const);
}

async function make(plan: ClipPlan): Promise<Buffer> {
  return Buffer.from(await page.evaluate((asked) => window.framesPage.makeClip(asked), plan), 'base64');
}

const EVEN = Array.from({ length: 50 }, (_, index) => index / 25);
const SMALL = { width: 160, height: 96, timesSeconds: EVEN } as const;
const isRed = ([red = 0, green = 0, blue = 0]: readonly number[]) => red > 180 && green < 80 && blue < 80;

describe('a clip as a source', () => {
  it.each(['mp4', 'mov', 'webm'] as const)(
    'steps every picture of a %s clip with its own time',
    async (container) => {
      const played = await play(await make({ ...SMALL, container }));
      expect(played.end).toEqual({ kind: 'finished' });
      expect(played.timesSeconds).toHaveLength(EVEN.length);
      played.timesSeconds.forEach((time, index) => expect(time).toBeCloseTo(EVEN[index] ?? -1, 2));
      expect(played.size).toEqual([160, 96]);
      expect(played.durationSeconds).toBeCloseTo(2, 1);
    },
  );

  it('keeps the times of a variable frame rate', async () => {
    const timesSeconds = [0, 0.033, 0.066, 0.1, 0.4, 0.41, 0.9, 2.25, 2.3];
    const played = await play(await make({ ...SMALL, container: 'mp4', timesSeconds }));
    expect(played.timesSeconds).toHaveLength(timesSeconds.length);
    played.timesSeconds.forEach((time, index) => expect(time).toBeCloseTo(timesSeconds[index] ?? -1, 3));
  });

  // The file asks for a clockwise turn: what was the top left corner goes on round.
  it.each([
    [0, 'topLeft', [160, 96]],
    [90, 'topRight', [96, 160]],
    [180, 'bottomRight', [160, 96]],
    [270, 'bottomLeft', [96, 160]],
  ] as const)(
    'turns a picture upright that the file says is turned by %i degrees',
    async (rotation, corner, size) => {
      const played = await play(await make({ ...SMALL, container: 'mp4', rotation }));
      expect(played.size).toEqual(size);
      const red = Object.entries(played.corners ?? {}).filter(([, colour]) => isRed(colour));
      expect(red.map(([name]) => name)).toEqual([corner]);
    },
  );

  it('scales a large picture down to 1280 pixels and leaves a small one alone', async () => {
    const played = await play(
      await make({ container: 'mp4', width: 1920, height: 1080, timesSeconds: [0, 0.04] }),
    );
    expect(played.size).toEqual([1280, 720]);
  });

  it('looks at the brightness about once a second', async () => {
    const played = await play(await make({ ...SMALL, container: 'mp4', grey: 100 }));
    const looks = played.brightness.flatMap((value) => value ?? []);
    expect(looks).toHaveLength(2);
    // A quarter is red: 0.75 * 100 + 0.25 * 0.299 * 255 = 94.
    for (const look of looks) expect(look).toBeCloseTo(94, -1);
  });

  it('stops when asked, after the picture at hand', async () => {
    const played = await play(await make({ ...SMALL, container: 'mp4' }), 7);
    expect(played.end).toEqual({ kind: 'stopped' });
    expect(played.timesSeconds).toHaveLength(7);
  });

  it('plays a clip with sound, and ignores the sound', async () => {
    const played = await play(await make({ ...SMALL, container: 'mp4', withSound: true }));
    expect(played.timesSeconds).toHaveLength(EVEN.length);
  });
});

describe('a clip that cannot be measured', () => {
  it('is said to be empty without a byte', async () => {
    expect((await play(Buffer.alloc(0))).problem).toBe('clip-empty');
  });

  it('is said to be no video when it is something else', async () => {
    expect((await play(Buffer.from('Not a video, however often it is read. '.repeat(50)))).problem).toBe(
      'source-unknown',
    );
  });

  it('is said to be damaged when its header is cut off', async () => {
    const whole = await make({ ...SMALL, container: 'mp4' });
    expect((await play(whole.subarray(0, 300))).problem).toBe('clip-damaged');
  });

  it('is said to be damaged when it breaks off, and what came before was given', async () => {
    const whole = await make({ ...SMALL, container: 'mp4' });
    const played = await play(whole.subarray(0, Math.floor(whole.length * 0.8)));
    expect(played.end).toEqual({ kind: 'failed', problem: 'clip-damaged' });
    expect(played.timesSeconds.length).toBeGreaterThan(0);
    expect(played.timesSeconds.length).toBeLessThan(EVEN.length);
  });

  it('is said to hold sound only', async () => {
    const base64 = await page.evaluate(() => window.framesPage.makeSound());
    expect((await play(Buffer.from(base64, 'base64'))).problem).toBe('clip-without-video');
  });

  it('is said to be of an unknown codec when it is HEVC, which this browser does not decode', async () => {
    const hevc = readFileSync(new URL('../../fixtures/clips/hevc-rotated-uneven.mp4', import.meta.url));
    expect((await play(hevc)).problem).toBe('clip-codec-unknown');
  });

  it('is refused when it lasts four hours, without being read to its end', async () => {
    const minutes = Array.from({ length: 241 }, (_, index) => index * 60);
    const clip = await make({ ...SMALL, container: 'mp4', timesSeconds: minutes });
    expect(await play(clip)).toMatchObject({ problem: 'clip-too-long', timesSeconds: [] });
  });
});
