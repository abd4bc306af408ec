import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sessionRecordSchema } from '../../../src/core/session/session-record.ts';
import { axeFindings, FAKE_CAMERA, openApp, type OpenApp } from './open-app.ts';

let app: OpenApp;
beforeAll(async () => {
  app = await openApp(FAKE_CAMERA);
});
afterAll(async () => {
  expect(app.foreignRequests()).toEqual([]);
  expect(app.policyViolations()).toEqual([]);
  await app.close();
});

/** Loading the network and measuring on a busy machine without a GPU. */
const PATIENCE_MS = 120_000;

/** Opens the band curl among the demo clips (the longest: it still plays when looked at) and waits for angles. */
async function measureDemo(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^Curl against an elastic band/ }).click();
  await page.waitForFunction(() => /^\d+$/.test(document.querySelector('.digits')?.textContent ?? ''), null, {
    timeout: PATIENCE_MS,
  });
}

describe('Live with a demo clip', () => {
  it('measures, moves nothing when digits change, and keeps what was measured when it is stopped', async () => {
    const { page, context } = await app.openPage();
    await measureDemo(page);
    const places = new Set<string>();
    const figures = new Set<string>();
    // Different figures, not a time: a clip is measured as fast as the machine can, and its end takes "Stop here" with it.
    while (figures.size < 12) {
      const seen = await page.evaluate(() => {
        const [angle] = document.querySelectorAll('.figure');
        const { x, y } = angle?.querySelector('.unit')?.getBoundingClientRect() ?? { x: 0, y: 0 };
        return { place: `${x} ${y}`, figure: angle?.querySelector('.digits')?.textContent ?? '' };
      });
      if (seen.figure !== '–') {
        places.add(seen.place);
        figures.add(seen.figure);
      }
      await page.waitForTimeout(50);
    }
    expect([...places]).toHaveLength(1);

    await page.getByRole('button', { name: 'Stop here' }).click();
    await page.getByRole('heading', { name: 'Set 1 is kept' }).waitFor({ timeout: PATIENCE_MS });
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('group', { name: 'Pain now?' }).getByText('3', { exact: true }).click();
    await page.getByText('Stop here if this is more than your therapist allowed.').waitFor();
    await page.evaluate(() => (location.hash = '#/sessions'));
    await page.getByRole('heading', { level: 1, name: 'Sessions' }).waitFor();
    // With a session open there is one place more to go to: all of them have room on a narrow screen, on a phone in one line.
    expect(await page.getByRole('link', { name: 'Live' }).count()).toBe(1);
    for (const width of [320, 390, 1280]) {
      await page.setViewportSize({ width, height: 800 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), `${width}`).toBe(
        0,
      );
      const headerPx = await page.getByRole('banner').evaluate((header) => header.clientHeight);
      if (width >= 390) expect(headerPx, `${width}`).toBeLessThan(50);
    }
    await page.getByRole('link', { name: 'Live' }).click();
    await page.getByRole('button', { name: 'Look back' }).click();
    await page.getByRole('heading', { level: 1, name: 'Look back' }).waitFor();
    // On a phone the session comes first: its files wait behind one button.
    await page.setViewportSize({ width: 390, height: 844 });
    expect(await page.getByRole('button', { name: /^Download/ }).count()).toBe(0);
    await page.getByText('Download', { exact: true }).click();
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Download the session record (JSON)' }).click();
    const record = sessionRecordSchema.parse(JSON.parse(readFileSync(await (await download).path(), 'utf8')));
    expect(record.settings).toMatchObject({ exercise: 'band-curl', side: 'left', statureCm: 162 });
    expect(record.sets).toHaveLength(1);
    expect(record.sets[0]?.answers.painAfter).toBe(3);
    expect(record.sets[0]?.frames.frameCount).toBeGreaterThan(10);
    await context.close();
  });

  it('has nothing that axe-core finds while it measures, and figures for three metres', async () => {
    const { page, context } = await app.openPage();
    await measureDemo(page);
    expect(await axeFindings(page)).toEqual([]);
    // interface.md: a digit at three metres needs about an eighth of the width of a 13-inch screen.
    const digitHeightPx = await page.evaluate(() => {
      const digits = document.querySelector('.digits');
      const context = document.createElement('canvas').getContext('2d');
      if (digits === null || context === null) return 0;
      const { fontWeight, fontSize, fontFamily } = getComputedStyle(digits);
      context.font = `${fontWeight} ${fontSize} ${fontFamily}`;
      return context.measureText('0').actualBoundingBoxAscent;
    });
    expect(digitHeightPx).toBeGreaterThan(1280 * 0.115);
    for (const [width, height] of [
      [390, 844],
      [844, 390],
      [1920, 1080],
    ] as const) {
      await page.setViewportSize({ width, height });
      const overflow = await page.evaluate(() => ({
        x: document.documentElement.scrollWidth - window.innerWidth,
        y: document.documentElement.scrollHeight - window.innerHeight,
      }));
      expect(overflow, `${width} x ${height}`).toEqual({ x: 0, y: 0 });
    }
    await context.close();
  });
});

describe('Live with a camera that shows nobody', () => {
  it('says so in the set-up check, records the set all the same, and says why nothing was measured', async () => {
    const { page, context } = await app.openPage();
    await page.getByRole('radio', { name: 'Your left arm' }).check();
    await page.getByRole('button', { name: 'Open the camera' }).click();
    await page.getByText('Step into view of the camera').waitFor({ timeout: PATIENCE_MS });
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Go to the session' }).click();
    await page.getByRole('button', { name: 'Start set 1' }).press('Enter');
    await page.getByText('seconds until the set starts').waitFor();
    // The button is gone: the heading has the focus, not the page's beginning.
    const focused = (): Promise<string> => page.evaluate(() => document.activeElement?.textContent ?? '');
    expect(await focused()).toBe('Isometric hold, left arm');
    await page.getByText('nobody in the picture').first().waitFor({ timeout: PATIENCE_MS });
    // What lasts is told to whoever hears the screen.
    await page
      .getByRole('status')
      .getByText('Not measured. Nobody is in the picture. Step into view of the camera.')
      .waitFor();
    await page.waitForTimeout(5000);
    await page.getByRole('button', { name: 'End set' }).press('Enter');
    await page.getByRole('heading', { name: 'Set 1 is kept' }).waitFor({ timeout: PATIENCE_MS });
    expect(await focused()).toBe('Set 1 is kept');
    await page.getByText('No hold and no repetition was found').waitFor();
    await page.getByRole('button', { name: 'End session and look back' }).click();
    await page.getByRole('heading', { level: 1, name: 'Look back' }).waitFor();
    await page.getByText('nobody in the picture').first().waitFor();
    await context.close();
  });
});

describe('Live with a camera that is unplugged during a set', () => {
  it('keeps what was measured, says what happened, and offers it as a file', async () => {
    const { page, context } = await app.openPage();
    await page.evaluate(() => {
      const devices = navigator.mediaDevices;
      const ask = devices.getUserMedia.bind(devices);
      devices.getUserMedia = async (wish) => {
        const stream = await ask(wish);
        // The nearest thing to pulling the plug that a page can do: the track ends under the app's hands.
        window.pullThePlug = () => stream.getTracks().forEach((track) => track.stop());
        return stream;
      };
    });
    await page.getByRole('radio', { name: 'Your left arm' }).check();
    await page.getByRole('button', { name: 'Open the camera' }).click();
    await page.getByText('Step into view of the camera').waitFor({ timeout: PATIENCE_MS });
    await page.getByRole('button', { name: 'Go to the session' }).click();
    await page.getByRole('button', { name: 'Start set 1' }).click();
    await page.waitForTimeout(8000);
    await page.evaluate(() => window.pullThePlug());
    await page.getByRole('heading', { name: 'Set 1 is kept' }).waitFor({ timeout: PATIENCE_MS });
    await page
      .getByRole('alert')
      .getByText('The camera is gone; what was measured until then is kept.')
      .waitFor();
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Download what was recorded' }).click();
    const record = sessionRecordSchema.parse(JSON.parse(readFileSync(await (await download).path(), 'utf8')));
    expect(record.sets[0]?.frames.frameCount).toBeGreaterThan(10);
    await page.getByRole('button', { name: 'Look back' }).click();
    await page.getByRole('heading', { level: 1, name: 'Look back' }).waitFor();
    await context.close();
  });
});

declare global {
  interface Window {
    pullThePlug(): void;
  }
}
