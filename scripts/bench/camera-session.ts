import { existsSync } from 'node:fs';
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, CDPSession, Page } from 'playwright-core';
import { sessionRecordSchema, type SessionRecord } from '../../src/core/session/session-record.ts';
import { fakeCameraArgs, writeFakeCamera } from '../../tests/helpers/fake-camera.ts';
import { ensureBuilt, ROOT } from '../bootstrap.mjs';
import { findBrowser, launchBrowser } from '../browser.mjs';
import { serveFolder } from '../static-server.mjs';

const PATIENCE_MS = 240_000;
/** Longest task that counts as leaving the page free, milliseconds. Source: W3C Long Tasks. */
export const LONG_TASK_MS = 50;

declare global {
  interface Window {
    /** Long tasks of the page: begin and length, milliseconds of its own clock. */
    longTasks?: [number, number][];
  }
}

/** The built app measuring a demo clip that plays as the browser's camera, from the set-up check on. */
export interface CameraSession {
  readonly page: Page;
  readonly devtools: CDPSession;
  /** What pages and workers told the console beyond plain messages. */
  readonly complaints: readonly string[];
  startSet(): Promise<void>;
  endSet(): Promise<void>;
  /** The rows of "How it runs", by name. */
  facts(): Promise<ReadonlyMap<string, string>>;
  /** Numbers of the browser's processes, or of those of one type only, as "renderer". */
  pids(type?: string): Promise<readonly number[]>;
  /** Seconds on a core that the browser's processes of each type have had so far. */
  coreSeconds(): Promise<ReadonlyMap<string, number>>;
  /** Ends the session and gives its record, as it is downloaded. */
  lookBack(): Promise<SessionRecord>;
  close(): Promise<void>;
}

/** How the window is. */
export interface SessionWindow {
  readonly width: number;
  readonly height: number;
}

/** Opens the app on a demo clip as camera, 30 pictures a second, and stops at the first set's button. */
export async function openCameraSession(clipName: string, window: SessionWindow): Promise<CameraSession> {
  const executablePath = findBrowser();
  if (executablePath === null) throw new Error('No Chrome, Chromium or Edge was found.');
  ensureBuilt();
  const cameraFile = await cameraFileOf(clipName);
  const server = await serveFolder(join(ROOT, 'dist'));
  const browser = await launchBrowser(executablePath, fakeCameraArgs(cameraFile));
  const context = await browser.newContext({ viewport: window });
  await context.addInitScript(() => {
    const seen: [number, number][] = [];
    Object.assign(globalThis, { longTasks: seen });
    new PerformanceObserver((list) => {
      for (const { startTime, duration } of list.getEntries()) seen.push([startTime, duration]);
    }).observe({ type: 'longtask' });
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() !== 'log' && message.type() !== 'info') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error)));
  const devtools = await context.newCDPSession(page);
  await devtools.send('Performance.enable');
  await page.goto(server.url);
  await page.getByRole('radio', { name: 'Free curl' }).check();
  await page.getByRole('radio', { name: 'Your right arm' }).check();
  await page.getByRole('radio', { name: /^Camera/ }).check();
  await page.getByRole('button', { name: 'Open the camera' }).click();
  await page.locator('.advice span').first().waitFor({ timeout: PATIENCE_MS });
  await page.getByRole('button', { name: 'Go to the session' }).click();
  let sets = 0;
  const start = () => page.getByRole('button', { name: `Start set ${String(sets + 1)}` });
  await start().waitFor({ timeout: PATIENCE_MS });

  return {
    page,
    devtools,
    complaints,
    async startSet() {
      await start().click();
      await page.getByRole('button', { name: 'End set' }).waitFor({ timeout: PATIENCE_MS });
    },
    async endSet() {
      await page.getByRole('button', { name: 'End set' }).click();
      sets += 1;
      await page
        .getByRole('heading', { name: `Set ${String(sets)} is kept` })
        .waitFor({ timeout: PATIENCE_MS });
      await start().waitFor({ timeout: PATIENCE_MS });
    },
    async facts() {
      await page.getByRole('button', { name: 'How it runs' }).first().click();
      await page.waitForTimeout(1200);
      const rows = await page
        .locator('dialog .facts dl > div')
        .evaluateAll((found) =>
          found.map((row): [string, string] => [
            row.querySelector('dt')?.textContent ?? '',
            row.querySelector('dd')?.textContent ?? '',
          ]),
        );
      await page.getByRole('button', { name: 'Close', exact: true }).click();
      return new Map(rows);
    },
    async coreSeconds() {
      const seconds = new Map<string, number>();
      for (const { type, cpuTime } of await processesOf(browser))
        seconds.set(type, (seconds.get(type) ?? 0) + cpuTime);
      return seconds;
    },
    async pids(wanted) {
      return (await processesOf(browser))
        .filter(({ type }) => wanted === undefined || type === wanted)
        .map(({ id }) => id);
    },
    async lookBack() {
      await page.getByRole('button', { name: 'End session and look back' }).click();
      await page.getByRole('heading', { level: 1, name: 'Look back' }).waitFor({ timeout: PATIENCE_MS });
      const coming = page.waitForEvent('download', { timeout: PATIENCE_MS });
      await page.getByRole('button', { name: 'Download the session record (JSON)' }).click();
      return sessionRecordSchema.parse(JSON.parse(await readFile(await (await coming).path(), 'utf8')));
    },
    async close() {
      await browser.close();
      await server.close();
    },
  };
}

async function processesOf(browser: Browser): Promise<{ type: string; id: number; cpuTime: number }[]> {
  const whole = await browser.newBrowserCDPSession();
  const { processInfo } = await whole.send('SystemInfo.getProcessInfo');
  await whole.detach();
  return processInfo;
}

/** How long the page's main thread has worked since it was opened, seconds, by the browser's own count. */
export interface MainThread {
  /** In tasks by the clock: also while it waits for a core. */
  readonly busySeconds: number;
  /** On a core. */
  readonly workSeconds: number;
}

/** What the main thread has done so far. */
export async function mainThread(devtools: CDPSession): Promise<MainThread> {
  const { metrics } = await devtools.send('Performance.getMetrics');
  const metric = (wanted: string): number => metrics.find(({ name }) => name === wanted)?.value ?? Number.NaN;
  return { busySeconds: metric('TaskDuration'), workSeconds: metric('ThreadTime') };
}

async function cameraFileOf(clipName: string): Promise<string> {
  const folder = join(ROOT, '.cache', 'fake-cameras');
  const path = join(folder, `${clipName}.mjpeg`);
  if (existsSync(path)) return path;
  await mkdir(folder, { recursive: true });
  console.log('Making a camera of a demo clip (once; about a minute) ...');
  await writeFakeCamera(join(ROOT, 'demo-clips', `${clipName}.mp4`), path);
  return path;
}
