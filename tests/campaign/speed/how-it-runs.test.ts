import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { decodeFrames } from '../../../src/core/session/quantised-frames.ts';
import { sessionRecordSchema, type SessionRecord } from '../../../src/core/session/session-record.ts';
import { axeFindings, FAKE_CAMERA, openApp, type OpenApp } from '../../browser/ui-begin-live/open-app.ts';

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

/** A camera whose pictures the test holds back and lets go on: a moving square on a canvas. */
async function useHeldCamera(page: Page): Promise<void> {
  await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    const context = canvas.getContext('2d');
    Object.assign(canvas, { width: 320, height: 240 });
    window.heldCamera = { isHeld: false };
    let turn = 0;
    setInterval(() => {
      if (window.heldCamera.isHeld) return;
      turn += 1;
      if (context === null) return;
      context.fillStyle = '#909090';
      context.fillRect(0, 0, 320, 240);
      context.fillStyle = '#303030';
      context.fillRect(turn % 300, 100, 20, 20);
    }, 60);
    navigator.mediaDevices.getUserMedia = () => Promise.resolve(canvas.captureStream());
  });
}

async function openCamera(page: Page): Promise<void> {
  await page.getByRole('radio', { name: 'Your left arm' }).check();
  await page.getByRole('button', { name: 'Open the camera' }).click();
  await page.getByText('Step into view of the camera').waitFor({ timeout: PATIENCE_MS });
}

async function downloadedRecord(page: Page): Promise<SessionRecord> {
  await page.getByRole('heading', { level: 1, name: 'Look back' }).waitFor();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Download the session record (JSON)' }).click();
  return sessionRecordSchema.parse(JSON.parse(readFileSync(await (await download).path(), 'utf8')));
}

describe('The live picture', () => {
  it('plays by itself beneath the figure, in the same box, and takes no focus', async () => {
    const { page, context } = await app.openPage();
    await openCamera(page);
    // The first picture may be measured before the page itself plays the camera, and the figure's canvas takes its size later.
    await page.waitForFunction(
      () => {
        const video = document.querySelector('video');
        const canvas = document.querySelector<HTMLCanvasElement>('.view canvas');
        if (video === null || canvas === null || video.videoHeight === 0) return false;
        return Math.abs(canvas.width / canvas.height - video.videoWidth / video.videoHeight) < 0.01;
      },
      null,
      { timeout: PATIENCE_MS },
    );
    const seen = await page.evaluate(() => {
      const video = document.querySelector('video');
      const canvas = document.querySelector('.view canvas');
      if (video === null || !(canvas instanceof HTMLCanvasElement)) return null;
      video.focus();
      const box = (element: Element): string => JSON.stringify(element.getBoundingClientRect());
      return {
        isPlaying: !video.paused && video.videoWidth > 0,
        isMuted: video.muted,
        hasFocus: document.activeElement === video,
        isSameBox: box(video) === box(canvas),
        transforms: [video, canvas].map((each) => getComputedStyle(each).transform),
      };
    });
    expect(seen).toMatchObject({ isPlaying: true, isMuted: true, hasFocus: false, isSameBox: true });
    expect(new Set(seen?.transforms).size).toBe(1);
    expect(await page.getByRole('img', { name: 'What the camera sees' }).count()).toBe(1);
    await context.close();
  });
});

describe('How it runs', () => {
  it('is said in one line in the set-up check, and all of it on demand, to be copied', async () => {
    const { page, context } = await app.openPage({ permissions: ['clipboard-read', 'clipboard-write'] });
    await openCamera(page);
    await page
      .getByText(/^Measuring \d+ pictures? a second with the full network; numbers are/)
      .waitFor({ timeout: PATIENCE_MS });
    await page.getByText('How it runs').click();
    await page
      .getByText(/^\d+\.\d pictures a second$/)
      .first()
      .waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Copy as text' }).click();
    await page.getByText('Copied.').waitFor();
    const text = await page.evaluate(() => navigator.clipboard.readText());
    expect(text).toMatch(/^Software: Forearmed \d/);
    expect(text).toMatch(/^Measured: \d+\.\d pictures a second$/m);
    expect(text).toMatch(/^File of the network, SHA-256: [0-9a-f]{64}$/m);
    await context.close();
  });

  it('gives text to select where the page may not copy', async () => {
    const { page, context } = await app.openPage();
    await page.evaluate(() => {
      navigator.clipboard.writeText = () => Promise.reject(new DOMException('refused', 'NotAllowedError'));
    });
    await openCamera(page);
    await page.getByText('How it runs').click();
    await page.getByRole('button', { name: 'Copy as text' }).click();
    const field = page.getByRole('textbox', { name: 'How it runs, as text' });
    expect(await field.inputValue()).toContain('Pose network: full');
    expect(await page.evaluate(() => document.getSelection()?.toString() ?? '')).toContain('Pose network');
    await context.close();
  });

  it('lies over Live by keyboard, lets the set go on beneath, and gives the focus back', async () => {
    const { page, context } = await app.openPage();
    await openCamera(page);
    await page.getByRole('button', { name: 'Go to the session' }).click();
    const button = page.getByRole('button', { name: 'How it runs' });
    await button.focus();
    await page.keyboard.press('Enter');
    await page.getByRole('dialog', { name: 'How it runs' }).waitFor();
    await page.getByText('Work per picture').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.getByRole('dialog').waitFor({ state: 'hidden' });
    expect(await button.evaluate((element) => element === document.activeElement)).toBe(true);
    await context.close();
  });

  it('computes with a network that is chosen in the set-up check, and the record names it', async () => {
    const { page, context } = await app.openPage();
    await openCamera(page);
    await page.getByText('How it runs').click();
    await page.getByRole('radio', { name: /^Lite/ }).check();
    await page.getByText(/a second with the lite network/).waitFor({ timeout: PATIENCE_MS });
    await page.getByRole('button', { name: 'Go to the session' }).click();
    await page.getByRole('button', { name: 'Start set 1' }).click();
    await page.getByRole('button', { name: 'End set' }).waitFor();
    await page.waitForTimeout(8000);
    await page.getByRole('button', { name: 'End set' }).click();
    await page.getByRole('heading', { name: 'Set 1 is kept' }).waitFor({ timeout: PATIENCE_MS });
    await page.getByRole('button', { name: 'End session and look back' }).click();
    const record = await downloadedRecord(page);
    expect(record.estimator.model).toBe('blazepose-lite');
    await context.close();
  });

  it('keeps the chosen network for the next visit', async () => {
    const { page, context } = await app.openPage();
    await page.getByText('How it measures').click();
    expect(await page.getByRole('radio', { name: /^Automatic/ }).isChecked()).toBe(true);
    await page.getByRole('radio', { name: /^Lite/ }).check();
    await page.reload();
    await page.getByText('How it measures').click();
    expect(await page.getByRole('radio', { name: /^Lite/ }).isChecked()).toBe(true);
    await context.close();
  });
});

describe('A camera that gives no picture for a while', () => {
  it('is said with what to do, no old number stays, and the set goes on with the gap not measured', async () => {
    const { page, context } = await app.openPage();
    await useHeldCamera(page);
    await openCamera(page);
    await page.getByRole('button', { name: 'Go to the session' }).click();
    await page.getByRole('button', { name: 'Start set 1' }).click();
    await page.getByRole('button', { name: 'End set' }).waitFor();
    await page.waitForTimeout(8000);
    await page.evaluate(() => (window.heldCamera.isHeld = true));
    await page
      .getByText(/^No picture has come for \d+ s\. Keep this page in front/)
      .waitFor({ timeout: 15_000 });
    await page.getByText('no picture comes').first().waitFor();
    // The words stand where the angle was.
    expect(await page.locator('.figures').innerText()).toMatch(/^Not measured/);
    expect(await page.locator('.figures').getByText('Elbow flexion').count()).toBe(0);
    await page.evaluate(() => (window.heldCamera.isHeld = false));
    await page.getByText(/^Pictures come again\. The pause of \d+ s is not measured/).waitFor();
    await page.waitForTimeout(2000);
    await page.getByRole('button', { name: 'End set' }).click();
    await page.getByRole('heading', { name: 'Set 1 is kept' }).waitFor({ timeout: PATIENCE_MS });
    await page.getByRole('button', { name: 'End session and look back' }).click();
    const [set] = (await downloadedRecord(page)).sets;
    expect(set).toBeDefined();
    const times = set === undefined ? [] : decodeFrames(set.frames).map(({ timeSeconds }) => timeSeconds);
    const steps = times.slice(1).map((time, k) => time - (times[k] ?? 0));
    const gap = steps.indexOf(Math.max(...steps));
    expect(steps[gap]).toBeGreaterThan(3);
    expect(gap).toBeGreaterThan(5);
    expect(steps.length - gap).toBeGreaterThan(3);
    await context.close();
  });
});

declare global {
  interface Window {
    /** Put there by these tests. */
    heldCamera: { isHeld: boolean };
  }
}
